package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.net.URLEncoder;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.rf.CsvRows;
import org.equiphase.web.Sentence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The calculations as pages: the figures on them, what they say of bad input, who may see them. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CalculatorPagesTest {

  static final String SWEEP = "/assets/example-sweep.s2p";

  private final RunningService service;
  private final PageClient pages;

  CalculatorPagesTest(RunningService service) {
    this.service = service;
    this.pages = service.pages(Role.TECHNICIAN);
  }

  static Stream<Class<? extends Calculation>> calculations() {
    return Stream.of(
        LengthCalculation.class,
        SweepCalculation.class,
        StretcherCalculation.class,
        ReflectionCalculation.class,
        SetCalculation.class,
        PoolCalculation.class,
        CutCalculation.class,
        ConformityCalculation.class,
        AntennaCalculation.class,
        BudgetCalculation.class,
        DriftCalculation.class,
        ChartCalculation.class,
        CapabilityCalculation.class,
        VelocityCalculation.class,
        GaugeCalculation.class);
  }

  @ParameterizedTest
  @MethodSource("calculations")
  void itsExampleIsComputedWithTheSumWrittenOut(Class<? extends Calculation> type)
      throws IOException {
    Calculation calculation = service.bean(type);
    String path = "/calculator/" + calculation.name();
    assertThat(pages.get("/calculator").body()).contains("href=\"" + path + "\"");
    HttpResponse<String> empty = pages.get(path);
    assertThat(empty.statusCode()).as(empty.body()).isEqualTo(200);
    assertThat(empty.body())
        .contains(Sentence.of(calculation.title()).toString())
        .doesNotContain("The sum");

    HttpResponse<String> answer =
        calculation.posted()
            ? send(pages, calculation, calculation.example(), SWEEP)
            : pages.get(path + query(calculation.example()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(answer.body()).contains("The sum").doesNotContain("NaN", "null", "Infinity");
    for (String typed : calculation.example().values()) {
      assertThat(answer.body()).contains(typed.lines().findFirst().orElse(""));
    }
  }

  @ParameterizedTest
  @MethodSource("calculations")
  void namesTheFieldThatIsNoNumberAndKeepsWhatWasTyped(Class<? extends Calculation> type)
      throws IOException {
    Calculation calculation = service.bean(type);
    for (Input input : calculation.inputs()) {
      if (input.kind() == Input.Kind.CHOICE
          || input.kind() == Input.Kind.FILE
          || input.name().equals("masterSerial")) {
        continue;
      }
      Map<String, String> typed = new LinkedHashMap<>(calculation.example());
      typed.put(input.name(), "12 elephants");
      HttpResponse<String> answer =
          calculation.posted()
              ? send(pages, calculation, typed, SWEEP)
              : pages.get("/calculator/" + calculation.name() + query(typed));
      assertThat(answer.statusCode()).as(input.name()).isEqualTo(400);
      assertThat(answer.body())
          .contains("href=\"#" + input.name() + "\"", "id=\"" + input.name() + "-error\"")
          .contains("12 elephants")
          .doesNotContain("The sum");
    }
  }

  @ParameterizedTest
  @EnumSource(Role.class)
  void anyoneSignedInMay(Role role) {
    PageClient own = service.pages(role);
    assertThat(own.get("/calculator").statusCode()).isEqualTo(200);
    assertThat(own.get("/calculator/length").statusCode()).isEqualTo(200);
    Calculation pool = service.bean(PoolCalculation.class);
    assertThat(own.post("/calculator/pool", pool.example()).statusCode()).isEqualTo(200);
  }

  @Test
  void nobodyElseMay() {
    PageClient stranger = service.pages();
    for (String path : new String[] {"/calculator", "/calculator/length", "/calculator/set"}) {
      HttpResponse<String> answer = stranger.get(path);
      assertThat(answer.statusCode()).isEqualTo(302);
      assertThat(stranger.location(answer)).startsWith("/sign-in");
    }
    assertThat(stranger.post("/calculator/pool", Map.of()).statusCode()).isIn(302, 403);
  }

  @Test
  void anUnknownCalculationIsNotFound() {
    assertThat(pages.get("/calculator/horoscope").statusCode()).isEqualTo(404);
  }

  /** One millimetre of cable with v = 0.695 at 2.8 GHz is 4.84° (360·f·d/(v·c), by hand). */
  @Test
  void aLengthTurnsThePhase() {
    String page =
        body(
            "/calculator/length?frequencyMhz=2800&velocityFactor=0,695&method=TRANSMISSION&lengthMm=1");
    assertThat(page).contains("−4.84°", "4.8379 °/mm", "1.000 mm");
  }

  /** The first case of trim/expected.csv, simulated with scikit-rf. */
  @Test
  void aPhaseErrorIsATrim() {
    String page =
        body(
            "/calculator/length?frequencyMhz=2000&velocityFactor=0.686&method=TRANSMISSION"
                + "&phaseErrorDeg=-785.617187273");
    assertThat(page).contains("224.400 mm", "A cut can&#39;t be undone");
    assertThat(
            body(
                "/calculator/length?frequencyMhz=2000&velocityFactor=0.686&method=TRANSMISSION"
                    + "&phaseErrorDeg=3"))
        .contains("The cable is short by this length")
        .doesNotContain("A cut can&#39;t be undone");
  }

  @Test
  void saysItWhereTwoOfThreeAreGiven() {
    HttpResponse<String> answer =
        pages.get(
            "/calculator/length?frequencyMhz=2000&velocityFactor=0.686&method=TRANSMISSION"
                + "&phaseErrorDeg=3&lengthMm=1");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("id=\"phaseErrorDeg-error\"", "either a phase error");
  }

  @Test
  void aRefusalOfTheCalculationIsShownAtTheField() {
    HttpResponse<String> answer =
        pages.get(
            "/calculator/length?frequencyMhz=-5&velocityFactor=0.686&method=TRANSMISSION"
                + "&phaseErrorDeg=3");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("id=\"frequencyMhz-error\"", "value=\"-5\"");
  }

  /** Third case of stretcher/expected.csv (scikit-rf and ngspice): a quarter wave, folded. */
  @Test
  void aFoldedStretcherOpensHalfOfAQuarterWave() {
    String page =
        body(
            "/calculator/stretcher?geometry=FOLDED&frequencyMhz=950&phaseErrorDeg=90"
                + "&method=TRANSMISSION&airIndex=1&minMm=0&maxMm=280&resolutionMm=0.001&currentMm=0");
    assertThat(page).contains("39.446 mm", "78.892 mm", "315.571 mm");
  }

  /**
   * D. M. Pozar, Microwave Engineering, example 2.2: 40 + j70 Ω on a 100 Ω line of 0.3 wavelengths
   * (printed values from memory, digits recomputed): |Γ| 0.59 at 104°, SWR 3.87, 36.54 − j61.12 Ω.
   */
  @Test
  void aLoadIsSeenThroughALine() {
    String page =
        body(
            "/calculator/reflection?frequencyMhz=299.792458&referenceOhm=100&loadReOhm=40"
                + "&loadImOhm=70&addedLengthMm=300&velocityFactor=1&attenuationDbPerM=0");
    assertThat(page)
        .contains("0.589015 at 104.036°", "36.534 − j61.119 Ω", "3.8664", "4.597 dB")
        .contains("−216.000°");
  }

  @Test
  void anOpenEndIsInfinite() {
    String page =
        body(
            "/calculator/reflection?frequencyMhz=100&referenceOhm=50&loadReOhm=0"
                + "&loadImOhm=0&addedLengthMm=0&velocityFactor=1&attenuationDbPerM=0");
    assertThat(page).contains("<b>infinite</b>", "−1.000000 + j0.000000");
  }

  /** JCGM 106:2012, clause 7 (two-sided example): 0.9332 − 0.2706 = 0.6626. */
  @Test
  void aVerdictHasItsProbability() {
    String page =
        body(
            "/calculator/conformity?value=13.6&standardUncertainty=1.8&lower=12.5&upper=16.3"
                + "&guardFactor=0.5");
    assertThat(page).contains("<b>1.5000</b>", "0.9332 − 0.2706", "0.6626", "14.3 to 14.5");
  }

  /** Case t01 of lines/expected.csv, simulated with scikit-rf. */
  @Test
  void aSweepIsReadAsSimulated() throws IOException {
    HttpResponse<String> answer =
        send(
            pages,
            service.bean(SweepCalculation.class),
            Map.of(
                "method", "TRANSMISSION",
                "velocityFactor", "0.7763",
                "spotsMhz", "730\n850\n955"),
            "/lines/t01.s2p");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(answer.body())
        .contains("2.00018 ns", "0.46550 m", "0.59964 m")
        .contains("−525.65", "−612.06", "−687.66", "0.168");
  }

  @Test
  void asksForTheFileAndRefusesAnother() throws IOException {
    Calculation sweep = service.bean(SweepCalculation.class);
    HttpResponse<String> none = pages.post("/calculator/sweep", sweep.example());
    assertThat(none.statusCode()).isEqualTo(400);
    assertThat(none.body()).contains("id=\"file-error\"", "choose a file");
    HttpResponse<String> other = send(pages, sweep, sweep.example(), "/assets/app.css");
    assertThat(other.statusCode()).isEqualTo(400);
    assertThat(other.body()).contains("id=\"file-error\"");
  }

  /** Case s01 of sets, solved by exhaustive search: two of three cut, 9.090288 mm in all. */
  @Test
  void aSetIsAdjustedWithTheLeastTrim() {
    Map<String, String> form = new LinkedHashMap<>();
    form.put("basis", "SET");
    form.put("turns", "ABSOLUTE");
    form.put("velocityFactor", "0.782");
    form.put("aimPercent", "100");
    form.put("frequencies", "950; 3");
    form.put("members", "A; -6800.394; 60\n\nB\t-6808,641\t60\nC; -6791.887; 60");
    String page = post("set", form);
    assertThat(page).contains("2 to adjust, 0 to replace, 9.090 mm", "1.719", "7.372");

    form.put("members", "A; -6800.394; 60\n\nB; -6808.641; -60");
    HttpResponse<String> refused = pages.post("/calculator/set", form);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("id=\"members-error\"", "line 3, trimAllowanceMm");
  }

  /** The stretcher adds line: 360·f·L/c, by hand 3.3623° per mm at 2.8 GHz. */
  @Test
  void aMemberIsStretched() {
    Map<String, String> form = new LinkedHashMap<>();
    form.put("basis", "NOMINAL");
    form.put("turns", "ABSOLUTE");
    form.put("velocityFactor", "0.695");
    form.put("aimPercent", "10");
    form.put("frequencies", "2800; 1");
    form.put("members", "A; 33.723; ; 0; 40");
    assertThat(post("set", form)).contains("−3.3623", "10.000", "+0.10");
  }

  /** Case p01 of pool, solved by exhaustive search: three sets, no more. */
  @Test
  void aPoolGivesAllTheSetsThereAre() {
    String page =
        post(
            "pool",
            Map.of(
                "setSize", "2",
                "frequencies", "950; 1.9",
                "members", "A; 3.93\nB; -4.7\nC; 1.78\nD; 2.03\nE; 4.61\nF; -3.66"));
    assertThat(page).contains("3 sets", "at most 3 possible", "the most there can be, proven");
  }

  @Test
  void aPoolMayBeCutAndLimitsLoss() {
    String page =
        post(
            "pool",
            Map.of(
                "setSize", "2",
                "frequencies", "2800; 1; 0.1",
                "members",
                    "A; 0; 1.00; 10; 0.695; 0.5\nB; -9.6758; 1.05; 10; 0.695; 0.5\nC; 0.5; 1.3"));
    assertThat(page).contains("1 set<", "A cut can&#39;t be undone", "4.8379", "Loss spread");
  }

  /**
   * By hand, with a table of the normal distribution: s = 4.8379 °/mm, d = 6.7 mm leaves −0.086°; u
   * = √(0.4838² + 0.4²) = 0.6277°; Φ(1.730) = 0.9582 and Φ(−1.456) = 0.0727, so 88.5 % in and 4.2 %
   * too short.
   */
  @Test
  void aCutHasItsChances() {
    Map<String, String> form = new LinkedHashMap<>();
    form.put("velocityFactor", "0.695");
    form.put("velocityUncertainty", "0");
    form.put("cutStandardUncertaintyMm", "0.1");
    form.put("cutResolutionMm", "0.1");
    form.put("trimAllowanceMm", "20");
    form.put("tooShortPercent", "5");
    form.put("maxCuts", "1");
    form.put("spots", "2800; -32.5; 1; 0.4");
    assertThat(post("cut", form))
        .contains("Cut 6.7 mm", "88.5 %", "4.2 %", "0.9582", "0.0727", "A cut can&#39;t be undone");
  }

  /** Case a01 of array, made with numpy: eight elements, half a wavelength apart. */
  @Test
  void errorsCostTheAntennaGain() {
    String elements =
        CsvRows.of("/array/channels.csv")
            .filter(row -> row.text("case").equals("a01"))
            .map(row -> row.text("phase_error_deg") + "; " + row.text("amplitude"))
            .collect(Collectors.joining("\n"));
    String page =
        post(
            "antenna",
            Map.of(
                "spacingWavelengths", "0.5",
                "steerDeg", "0",
                "amplitudes", "TYPED",
                "elements", elements));
    assertThat(page)
        .contains("<b>0.2277 dB</b>", "0.1414°", "−10.724 dB", "−12.797 dB", "<b>13.1002°</b>");
  }

  /** Sidelobes of a Dolph-Chebyshev array are all at the level asked for. */
  @Test
  void aTaperIsComputed() {
    Map<String, String> form = new LinkedHashMap<>();
    form.put("spacingWavelengths", "0.5");
    form.put("steerDeg", "0");
    form.put("amplitudes", "CHEBYSHEV");
    form.put("elements", "0\n".repeat(10));
    HttpResponse<String> without = pages.post("/calculator/antenna", form);
    assertThat(without.statusCode()).isEqualTo(400);
    assertThat(without.body()).contains("id=\"sidelobeDb-error\"");
    form.put("sidelobeDb", "-30");
    assertThat(post("antenna", form)).contains("−30.000 dB");
  }

  private String post(String name, Map<String, String> form) {
    HttpResponse<String> answer = pages.post("/calculator/" + name, form);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return answer.body();
  }

  private String body(String path) {
    HttpResponse<String> answer = pages.get(path);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return answer.body();
  }

  static HttpResponse<String> send(
      PageClient pages, Calculation to, Map<String, String> form, String file) throws IOException {
    String path = "/calculator/" + to.name();
    if (!to.upload()) {
      return pages.post(path, form);
    }
    Multipart parts = new Multipart();
    form.forEach(
        (name, value) -> {
          if (!name.equals("file")) {
            parts.field(name, value);
          }
        });
    byte[] content = file.startsWith("/assets") ? pages.download(file).body() : resource(file);
    return pages.upload(path, parts.file("file", file.replaceFirst(".*/", ""), content));
  }

  private static byte[] resource(String name) throws IOException {
    try (InputStream in =
        Objects.requireNonNull(CalculatorPagesTest.class.getResourceAsStream(name))) {
      return in.readAllBytes();
    }
  }

  static String query(Map<String, String> values) {
    return values.entrySet().stream()
        .map(e -> e.getKey() + "=" + URLEncoder.encode(e.getValue(), StandardCharsets.UTF_8))
        .collect(Collectors.joining("&", "?", ""));
  }
}
