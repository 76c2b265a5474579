package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.Map;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.metrology.GaugeStudies;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;

/** The pages of uncertainty, drift, control and gauges show published figures. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class MetrologyPagesTest {

  private final RunningService service;
  private final PageClient pages;

  MetrologyPagesTest(RunningService service) {
    this.service = service;
    this.pages = service.pages(Role.QA);
  }

  /**
   * JCGM 100:2008, H.1, its terms as printed: 25, 9.7, 2.9, 16.6 nm give u = 32 nm, 16.7 degrees.
   */
  @Test
  void aBudgetIsAddedUp() {
    String page =
        post(
            "budget",
            Map.of(
                "probabilityPercent", "99",
                "contributions",
                    """
                    standard; 25; normal; common; ; ; 18
                    difference; 9.7; normal; common; ; ; 25.6
                    expansion; 2.9; normal; common; ; ; 50
                    temperature; 16.6; normal; common; ; ; 2"""));
    // Table G.2 gives t = 2.92 for 16 degrees of freedom and 99 %; the guide prints U = 93 nm.
    assertThat(page).contains("2.921 · 31.67", "<b>92.5").containsPattern("<b>16\\.[78]</b>");
  }

  /** Linear between checks, in proportion to frequency: by hand. */
  @Test
  void driftIsTakenOff() {
    String page = post("drift", service.bean(DriftCalculation.class).example());
    assertThat(page).contains("−121.5200°", "0.2907°", "between two checks");
    assertThat(
            pages
                .post(
                    "/calculator/drift",
                    Map.of(
                        "frequencyMhz", "2800",
                        "baselinePhaseDeg", "0",
                        "driftLimitDeg", "1",
                        "checks", "2026-03-02 08:00; 0",
                        "readings", "2026-03-02 07:00; 2800; 0"))
                .body())
        .contains("id=\"readings-error\"", "line 1, at", "lies before the first check");
  }

  /** NIST/SEMATECH e-Handbook, 6.3.2.2: mean 50.81, average moving range 1.8778, limits. */
  @Test
  void aControlChartHasItsLimits() {
    String page =
        post(
            "chart",
            Map.of("values", "49.6\n47.6\n49.9\n51.3\n47.8\n51.2\n52.6\n52.4\n53.6\n52.1"));
    assertThat(page).contains("50.81", "1.877778", "55.804", "45.815", "in control");
  }

  /** By hand: 1, 2, 3 have a mean of 2 and s = 1; limits −1 and 5 give Cp = Cpk = 1. */
  @Test
  void aCapabilityIsComputed() {
    String page =
        post(
            "capability",
            Map.of("lower", "-1", "upper", "5", "confidencePercent", "95", "values", "1\n2\n3"));
    assertThat(page).contains("(5 − (−1)) / (6 · 1)", "<b>1.0000</b>");
  }

  /** 10 mm that move the phase by 48.379° at 2.8 GHz mean v = 0.695 (360·f·d/(c·Δφ), by hand). */
  @Test
  void aCutTellsTheVelocityFactor() {
    String page =
        post(
            "velocity",
            Map.of(
                "velocityFactor", "0.70",
                "velocityHalfWidth", "0.02",
                "cuts", "A; 10; 0.001; 2800; 48.379; 0.001\nB; 20; 0.001; 2800; 96.758; 0.001"));
    assertThat(page).contains("<strong>0.69500</strong>", "from 2 of 2 cuts");
  }

  /**
   * AIAG, Measurement Systems Analysis, 4th edition, chapter III-B: the worked study, by range (GRR
   * 26.68 %, ndc 5) and by analysis of variance (27.86 %, ndc 4).
   */
  @Test
  void aGaugeStudyIsJudgedBothWays() {
    String page = post("gauge", Map.of("readings", study()));
    assertThat(page).contains("0.20186", "26.68", "27.86", "part 4, person 2");
  }

  @Test
  void aGaugeStudyMayComeInAnyOrder() {
    String sorted = "1; Ada; 1; 2\n1; Ben; 4; 4\n2; Ada; 7; 8\n2; Ben; 9; 9";
    String mixed = "1; Ben; 4; 4\n2; Ada; 7; 8\n1; Ada; 1; 2\n2; Ben; 9; 9";
    assertThat(sum(post("gauge", Map.of("readings", mixed))))
        .isEqualTo(sum(post("gauge", Map.of("readings", sorted))));
    HttpResponse<String> gap =
        pages.post("/calculator/gauge", Map.of("readings", "1; Ada; 1; 2\n2; Ben; 4; 4"));
    assertThat(gap.statusCode()).isEqualTo(400);
    assertThat(gap.body()).contains("id=\"readings-error\"", "all must read all parts");
  }

  private static String sum(String page) {
    return page.substring(page.indexOf("The sum"));
  }

  private static String study() {
    double[][][] readings = GaugeStudies.manual();
    StringBuilder lines = new StringBuilder();
    for (int p = 0; p < readings.length; p++) {
      for (int o = 0; o < readings[p].length; o++) {
        lines.append(p + 1).append("; ").append(o + 1);
        for (double reading : readings[p][o]) {
          lines.append("; ").append(reading);
        }
        lines.append('\n');
      }
    }
    return lines.toString();
  }

  private String post(String name, Map<String, String> form) {
    HttpResponse<String> answer = pages.post("/calculator/" + name, form);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return answer.body();
  }
}
