package org.equiphase.measurement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.ApiClient.json;

import java.io.IOException;
import java.io.StringReader;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.catalog.Catalog;
import org.equiphase.rf.Complex;
import org.equiphase.rf.LineStretcher;
import org.equiphase.workorder.WorkOrders;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/** The pictures of readings in the demo shop, as everyone signed in gets them. */
class ReadingChartsTest {

  private static final double C = 299_792_458;

  private static final RunningService service = RunningService.demo();
  private static final PageClient pages = service.pages(Role.TECHNICIAN);

  @ParameterizedTest
  @ValueSource(strings = {"SW-A-001", "UH-001"})
  void theReadingsPhasesLieOnTheCurve(String serial) {
    Reading reading = reading(serial);
    JsonNode chart = json(ok("/readings/" + reading.id() + "/chart"));

    double[] ghz = numbers(chart.at("/curve/frequencyHz"));
    double[] phaseDeg = numbers(chart.at("/curve/phaseDeg"));
    for (int k = 0; k < reading.spots().size(); k++) {
      Reading.Spot spot = reading.spots().get(k);
      // 0.005° is half the last digit that the page shows.
      assertThat(at(ghz, phaseDeg, spot.frequencyHz())).isCloseTo(spot.phaseDeg(), within(0.005));
      assertThat(chart.at("/spots/phaseDeg").get(k).asDouble())
          .isCloseTo(spot.phaseDeg(), within(0.005));
      assertThat(chart.at("/spots/insertionLossDb").get(k).asDouble())
          .isCloseTo(Objects.requireNonNull(spot.insertionLossDb()), within(1e-9));
      assertThat(chart.at("/spots/vswr").get(k).asDouble())
          .isCloseTo(Objects.requireNonNull(spot.vswr()), within(1e-9));
    }
    assertThat(ok("/readings/" + reading.id()).body()).doesNotContain("were changed since");
  }

  /** The fit is a straight line of the reading's delay, −360·f·τ, and the rest is the residual. */
  @ParameterizedTest
  @ValueSource(strings = {"SW-A-001", "UH-001"})
  void theFitIsThePureDelayOfTheReading(String serial) {
    Reading reading = reading(serial);
    JsonNode curve = json(ok("/readings/" + reading.id() + "/chart")).get("curve");
    double[] hertz = numbers(curve.get("frequencyHz"));
    double[] phaseDeg = numbers(curve.get("phaseDeg"));
    double[] fitDeg = numbers(curve.get("fitDeg"));
    double[] residualDeg = numbers(curve.get("residualDeg"));
    int last = hertz.length - 1;

    double delayNs = -(fitDeg[last] - fitDeg[0]) / 360 / (hertz[last] - hertz[0]) * 1e9;
    // To the reference temperature, a cable's delay moves by some ppm.
    assertThat(delayNs)
        .isCloseTo(Objects.requireNonNull(reading.delayNs()), within(2e-5 * delayNs));
    double squares = 0;
    for (int i = 0; i <= last; i++) {
      double straightDeg =
          fitDeg[0] + (fitDeg[last] - fitDeg[0]) * (hertz[i] - hertz[0]) / (hertz[last] - hertz[0]);
      assertThat(fitDeg[i]).isCloseTo(straightDeg, within(1e-6));
      assertThat(phaseDeg[i] - fitDeg[i]).isCloseTo(residualDeg[i], within(1e-9));
      squares += residualDeg[i] * residualDeg[i];
    }
    assertThat(Math.sqrt(squares / hertz.length))
        .isCloseTo(Objects.requireNonNull(reading.fitResidualDeg()), within(1e-9));
  }

  @Test
  void theCsvHasAllPointsAsPlainNumbers() throws IOException {
    Reading reading = reading("SW-A-001");
    StoredSweep sweep = service.bean(Readings.class).sweep(reading.id()).orElseThrow();
    HttpResponse<String> answer = ok("/readings/" + reading.id() + "/sweep.csv");

    assertThat(answer.headers().firstValue("Content-Type").orElse("")).startsWith("text/csv");
    assertThat(answer.headers().firstValue("Content-Disposition").orElse(""))
        .contains("reading-" + reading.id() + "-sweep.csv");
    List<CSVRecord> rows =
        CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .get()
            .parse(new StringReader(answer.body()))
            .getRecords();
    assertThat(rows).hasSize(sweep.points().size());
    for (int i = 0; i < rows.size(); i++) {
      StoredSweep.Point measured = sweep.points().get(i);
      CSVRecord row = rows.get(i);
      assertThat(number(row, "frequency_hz")).isEqualTo(measured.frequencyHz());
      assertThat(number(row, "s11_re")).isEqualTo(measured.s11().re());
      double g = measured.s11().abs();
      assertThat(number(row, "vswr")).isCloseTo((1 + g) / (1 - g), within(1e-12));
      // The bench's one adapter takes 0.035 dB at 1 GHz off, growing with the root of frequency.
      assertThat(number(row, "insertion_loss_db"))
          .isLessThan(-20 * Math.log10(measured.measured().abs()));
    }
  }

  @Test
  void numbersInTheTableAreTheReaders() {
    Reading reading = reading("SW-A-001");
    String path = "/readings/" + reading.id();
    String english = ok(path).body();
    String german =
        pages
            .send(pages.request(path).header("Accept-Language", "de").header("Accept", "text/html"))
            .body();

    String phase =
        String.format(Locale.ROOT, "%.2f", reading.spots().get(0).phaseDeg()).replace('-', '−');
    assertThat(english).contains("Insertion loss, dB", ">" + phase + "<", "The same in numbers");
    assertThat(german)
        .contains("Einfügedämpfung, dB", "Stehwellenverhältnis (VSWR)", "Phasenrest")
        .contains(">" + phase.replace('.', ',') + "<");
    for (String page : List.of(english, german)) {
      assertThat(page).doesNotContain("??", "NaN", "Infinity", ">null<");
    }
  }

  /** φ = −360·f·(added length)/c, Γ turns by twice that; lengths from the table by hand. */
  @Test
  void theStretcherIsRehearsedFromItsPresentSetting() {
    ReadingCharts.Charts charts = service.bean(ReadingCharts.class).charts(reading("UH-001").id());
    StretcherRehearsal rehearsal = Objects.requireNonNull(charts.stretcher());
    StretcherRehearsal.State present = rehearsal.states().get(0);
    StretcherRehearsal.State longest =
        rehearsal.states().stream().filter(s -> s.settingMm() == 140).findFirst().orElseThrow();

    assertThat(present.settingMm()).isEqualTo(rehearsal.presentMm());
    assertThat(present.addedMm()).isZero();
    assertThat(rehearsal.presentMm()).isEqualTo(70);
    // Half way from 532.2 to 571.9 mm at 70 mm, 692.2 mm at 140 mm.
    double addedMm = 692.2 - (532.2 + 571.9) / 2;
    assertThat(longest.addedMm()).isCloseTo(addedMm, within(1e-9));
    double turnedDeg = -360 * 432e6 * addedMm / 1e3 / C;
    assertThat(longest.phaseChangeDeg()).isCloseTo(turnedDeg, within(1e-9));
    Complex before = Objects.requireNonNull(present.gamma());
    Complex after = Objects.requireNonNull(longest.gamma());
    assertThat(after.abs()).isCloseTo(before.abs(), within(1e-12));
    assertThat(Math.IEEEremainder(after.argumentDeg() - before.argumentDeg() - 2 * turnedDeg, 360))
        .isCloseTo(0, within(1e-9));
    Complex z = Objects.requireNonNull(longest.impedanceOhm());
    Complex back = z.minus(Complex.of(50, 0)).dividedBy(z.plus(Complex.of(50, 0)));
    assertThat(back.minus(after).abs()).isCloseTo(0, within(1e-12));
    assertThat(rehearsal.maybeMoved()).isFalse();
  }

  /** What the script works with is the same electrical length as the catalog's stretcher gives. */
  @Test
  void theScriptsTableOfLengthsIsTheStretchers() {
    LineStretcher stretcher =
        service
            .bean(Catalog.class)
            .lineStretcherByName("Folded line stretcher LF-1 (invented)")
            .orElseThrow()
            .toRf();
    String lengths =
        Objects.requireNonNull(
                service.bean(ReadingCharts.class).charts(reading("UH-001").id()).stretcher())
            .lengths();

    List<double[]> pairs =
        List.of(lengths.split(" ")).stream()
            .map(pair -> pair.split(":"))
            .map(pair -> new double[] {Double.parseDouble(pair[0]), Double.parseDouble(pair[1])})
            .toList();
    for (double settingMm : stretcher.marksMm(1000)) {
      double[] readingMm = pairs.stream().mapToDouble(pair -> pair[0]).toArray();
      double[] lengthMm = pairs.stream().mapToDouble(pair -> pair[1]).toArray();
      assertThat(at(readingMm, lengthMm, settingMm))
          .isCloseTo(stretcher.electricalLengthMm(settingMm), within(1e-9));
    }
  }

  @Test
  void aTypedReadingHasNoSweepButItsCircleOfVswr() {
    Reading reading = reading("XJ-001");
    String path = "/readings/" + reading.id();
    String page = ok(path).body();

    assertThat(reading.source()).isEqualTo(Reading.Source.TYPED);
    assertThat(page)
        .contains("typed in, without a sweep", "data-reflection-chart", "data-vswr-circle")
        .doesNotContain("data-sweep-chart", "data-measured", "data-turned");
    double vswr = Objects.requireNonNull(reading.spots().get(0).vswr());
    assertThat(page).contains("data-magnitude=\"" + (vswr - 1) / (vswr + 1) + "\"");
    assertThat(pages.get(path + "/chart").statusCode()).isEqualTo(404);
    assertThat(pages.get(path + "/sweep.csv").statusCode()).isEqualTo(404);
  }

  @Test
  void aTypedReadingWithoutVswrIsATableOnly() {
    Reading before = reading("XJ-060");
    String spots =
        before.spots().stream()
            .map(
                spot ->
                    String.format(
                        Locale.ROOT,
                        "{\"frequencyHz\": %s, \"phaseDeg\": %s}",
                        spot.frequencyHz(),
                        spot.measuredPhaseDeg()))
            .collect(Collectors.joining(", "));
    HttpResponse<String> recorded =
        service
            .api(Role.TECHNICIAN)
            .post(
                "/api/v1/readings",
                String.format(
                    Locale.ROOT,
                    "{\"serial\": \"XJ-060\", \"benchId\": %d, \"temperatureC\": 22.5,"
                        + " \"spots\": [%s]}",
                    before.benchId(),
                    spots));
    assertThat(recorded.statusCode()).as(recorded.body()).isEqualTo(201);

    assertThat(ok("/readings/" + json(recorded).get("id").asLong()).body())
        .contains("typed in, without a sweep", "At the frequencies of the order")
        .doesNotContain("data-sweep-chart", "data-reflection-chart");
  }

  @Test
  void chartsComeAloneForOtherPages() {
    long id = reading("UH-001").id();
    String charts = ok("/readings/" + id + "/charts").body();

    assertThat(charts)
        .contains("class=\"charts\"", "data-sweep-chart", "data-reflection-chart", "data-turned")
        .doesNotContain("<html", "<main", "<script");
  }

  @ParameterizedTest
  @EnumSource(Role.class)
  void anyoneSignedInMayLook(Role role) {
    PageClient own = service.pages(role);
    long id = reading("SW-A-001").id();
    for (String path : List.of("", "/charts", "/chart", "/sweep.csv")) {
      assertThat(own.get("/readings/" + id + path).statusCode()).as(path).isEqualTo(200);
    }
  }

  @Test
  void nobodyElseMay() {
    PageClient stranger = service.pages();
    for (String path : List.of("", "/charts", "/chart", "/sweep.csv")) {
      HttpResponse<String> answer = stranger.get("/readings/1" + path);
      assertThat(answer.statusCode()).as(path).isEqualTo(302);
      assertThat(stranger.location(answer)).startsWith("/sign-in");
    }
  }

  @Test
  void unknownReadingsAreNotFound() {
    for (String path : List.of("", "/charts", "/chart", "/sweep.csv")) {
      assertThat(pages.get("/readings/999999" + path).statusCode()).as(path).isEqualTo(404);
    }
  }

  @Test
  void theSetStripStandsInNumbersToo() {
    WorkOrders orders = service.bean(WorkOrders.class);
    long setId = Objects.requireNonNull(orders.assemblyBySerial("UH-001").setId());

    assertThat(ok("/sets/" + setId).body())
        .contains("The strip in numbers", "Error now, °", "Accepted, ±°");
  }

  private static Reading reading(String serial) {
    List<Reading> history =
        service
            .bean(Readings.class)
            .history(service.bean(WorkOrders.class).assemblyBySerial(serial).id());
    return history.get(history.size() - 1);
  }

  private static HttpResponse<String> ok(String path) {
    HttpResponse<String> answer = pages.get(path);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return answer;
  }

  private static double number(CSVRecord row, String column) {
    return Double.parseDouble(row.get(column));
  }

  private static double[] numbers(JsonNode array) {
    double[] values = new double[array.size()];
    for (int i = 0; i < values.length; i++) {
      values[i] = array.get(i).asDouble();
    }
    return values;
  }

  /** Linear between points. */
  private static double at(double[] x, double[] y, double where) {
    int right = 1;
    while (x[right] < where) {
      right++;
    }
    return y[right - 1]
        + (y[right] - y[right - 1]) * (where - x[right - 1]) / (x[right] - x[right - 1]);
  }
}
