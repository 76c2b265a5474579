package org.equiphase.demo;

import jakarta.annotation.PreDestroy;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.ConcurrentHashMap;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.ScpiConnection;
import org.equiphase.measurement.CaptureStarting;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Delay;
import org.equiphase.rf.Length;
import org.equiphase.rf.Method;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrders;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * The demo shop's instruments: a simulated analyzer for each, on ports of this machine only. A
 * socket does not tell which cable hangs on it, so the capture about to start does.
 */
@Component
@ConditionalOnProperty("equiphase.demo-data")
class SimulatedInstruments {

  private static final Logger LOG = LoggerFactory.getLogger(SimulatedInstruments.class);
  private static final String HOST = "127.0.0.1";
  private static final int FIRST_PORT = 15_025;
  private static final double NOISE = 4e-4;
  private static final double SPAN_SHARE = 0.25;
  private static final int FEWEST_POINTS = 201;
  private static final int MOST_POINTS = 20_001;
  private static final double POINTS_PER_TURN = 6;

  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final SimulatedStock stock;
  private final Map<Integer, SimulatedAnalyzer> byPort = new ConcurrentHashMap<>();
  private final Random noise = new Random(20260626);

  SimulatedInstruments(Catalog catalog, WorkOrders workOrders, SimulatedStock stock) {
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.stock = stock;
  }

  /** Starts one more and says how it is reached. */
  ScpiConnection start() {
    return ScpiConnection.usual(HOST, start(FIRST_PORT + byPort.size()));
  }

  /** Starts those of a shop that was opened before. */
  void resume() {
    for (Instrument instrument : catalog.instruments()) {
      ScpiConnection connection = instrument.connection();
      if (connection != null
          && connection.host().equals(HOST)
          && !byPort.containsKey(connection.port())
          && start(connection.port()) != connection.port()) {
        LOG.warn("{} can't be captured from: its port is taken", instrument.name());
      }
    }
  }

  private int start(int wantedPort) {
    SimulatedAnalyzer analyzer;
    try {
      analyzer = SimulatedAnalyzer.start(wantedPort);
    } catch (IOException taken) {
      analyzer = startAnywhere();
      LOG.info("Port {} is taken; a simulated analyzer is at {}", wantedPort, analyzer.port());
    }
    byPort.put(analyzer.port(), analyzer);
    return analyzer.port();
  }

  private static SimulatedAnalyzer startAnywhere() {
    try {
      return SimulatedAnalyzer.start(0);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Connects the assembly and sets the sweep about its order's frequencies. */
  @EventListener
  void on(CaptureStarting event) {
    Bench bench = catalog.bench(event.benchId());
    ScpiConnection connection = bench.instrument().connection();
    SimulatedAnalyzer analyzer = connection == null ? null : byPort.get(connection.port());
    if (analyzer == null) {
      return;
    }
    Assembly assembly = workOrders.assemblyBySerial(event.serial());
    Specification specification = workOrders.order(assembly.workOrderId()).specification();
    SimulatedCable cable = stock.cable(assembly);
    SimulatedHookup hookup = new SimulatedHookup(bench, 0);
    Method method = specification.method();
    double[] span = spanHz(specification);
    analyzer.connect(
        (parameter, hertz) ->
            noisy(
                method.isReflection()
                    ? hookup.reflection(cable, hertz, event.temperatureC())
                    : hookup
                        .through(cable, hertz, event.temperatureC())[parameter.charAt(1) - '1'][
                        parameter.charAt(2) - '1']),
        span[0],
        span[1],
        points(cable, method, span[1] - span[0]));
  }

  private static double[] spanHz(Specification specification) {
    double lowHz =
        specification.frequencies().stream()
            .mapToDouble(FrequencySpecification::frequencyHz)
            .min()
            .orElseThrow();
    double highHz =
        specification.frequencies().stream()
            .mapToDouble(FrequencySpecification::frequencyHz)
            .max()
            .orElseThrow();
    double middleHz = (lowHz + highHz) / 2;
    double halfHz = Math.max(0.55 * (highHz - lowHz), SPAN_SHARE * middleHz);
    return new double[] {
      1e6 * Math.rint((middleHz - halfHz) / 1e6), 1e6 * Math.rint((middleHz + halfHz) / 1e6)
    };
  }

  /** Enough that the phase can be followed from point to point. */
  private static int points(SimulatedCable cable, Method method, double spanHz) {
    Delay delay =
        Length.ofMillimetres(cable.lengthMm()).delayAt(cable.type().nominalVelocityFactor());
    double turns = spanHz * delay.seconds() * method.passes();
    return (int)
        Math.min(MOST_POINTS, Math.max(FEWEST_POINTS, Math.ceil(POINTS_PER_TURN * turns) + 1));
  }

  private Complex noisy(Complex value) {
    return value.plus(Complex.of(NOISE * noise.nextGaussian(), NOISE * noise.nextGaussian()));
  }

  @PreDestroy
  void close() {
    byPort.values().forEach(SimulatedAnalyzer::close);
  }
}
