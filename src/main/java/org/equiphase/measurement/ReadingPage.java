package org.equiphase.measurement;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.equiphase.measurement.SweepCurve.Point;
import org.equiphase.web.NotFoundException;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/** One reading with its pictures, for everyone who is signed in. */
@Controller
@RequestMapping("/readings/{id}")
class ReadingPage {

  private final ReadingCharts charts;

  ReadingPage(ReadingCharts charts) {
    this.charts = charts;
  }

  /** The sweep as drawn; {@code measuredPoints} tells whether it was thinned out. */
  record DrawnSweep(int measuredPoints, Columns curve, Columns spots) {}

  /** Values over ascending frequencies; a VSWR is null where infinite or unknown. */
  record Columns(
      List<Double> frequencyHz,
      List<Double> phaseDeg,
      List<Double> fitDeg,
      List<Double> residualDeg,
      List<Double> insertionLossDb,
      List<@Nullable Double> vswr) {

    static Columns of(List<Point> points) {
      List<@Nullable Double> vswr = new ArrayList<>();
      points.forEach(point -> vswr.add(point.vswr()));
      return new Columns(
          points.stream().map(Point::frequencyHz).toList(),
          points.stream().map(Point::phaseDeg).toList(),
          points.stream().map(Point::fitDeg).toList(),
          points.stream().map(Point::residualDeg).toList(),
          points.stream().map(Point::insertionLossDb).toList(),
          vswr);
    }
  }

  @GetMapping
  String reading(@PathVariable long id, Model model) {
    model.addAttribute("charts", charts.charts(id));
    return "measurement/reading";
  }

  /** The charts alone, for other pages to load. */
  @GetMapping("/charts")
  String charts(@PathVariable long id, Model model) {
    model.addAttribute("charts", charts.charts(id));
    return "measurement/charts :: charts(charts=${charts})";
  }

  @GetMapping(path = "/chart", produces = MediaType.APPLICATION_JSON_VALUE)
  @ResponseBody
  DrawnSweep chart(@PathVariable long id) {
    SweepCurve curve = curve(id);
    return new DrawnSweep(
        curve.points().size(), Columns.of(curve.drawn()), Columns.of(curve.spots()));
  }

  /** All points, as plain numbers. */
  @GetMapping("/sweep.csv")
  ResponseEntity<byte[]> csv(@PathVariable long id) {
    StringWriter text = new StringWriter();
    try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
      csv.printRecord(
          "frequency_hz",
          "phase_deg",
          "fit_deg",
          "residual_deg",
          "insertion_loss_db",
          "vswr",
          "s11_re",
          "s11_im");
      for (Point point : curve(id).points()) {
        csv.printRecord(
            point.frequencyHz(),
            point.phaseDeg(),
            point.fitDeg(),
            point.residualDeg(),
            point.insertionLossDb(),
            point.vswr(),
            point.s11().re(),
            point.s11().im());
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return ResponseEntity.ok()
        .contentType(new MediaType("text", "csv", StandardCharsets.UTF_8))
        .header(
            HttpHeaders.CONTENT_DISPOSITION,
            ContentDisposition.attachment()
                .filename("reading-" + id + "-sweep.csv")
                .build()
                .toString())
        .body(text.toString().getBytes(StandardCharsets.UTF_8));
  }

  private SweepCurve curve(long id) {
    return charts.curve(id).orElseThrow(() -> new NotFoundException("sweep of reading", id));
  }
}
