package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** The numbers of a case against what can be worked out by hand. */
@ExtendWith(RunningService.Extension.class)
class CaseTest {

  private final RunningService service;
  private final ReviewShop review;
  private final SmallShop shop;

  CaseTest(RunningService service) {
    this.service = service;
    review = new ReviewShop(service);
    shop = review.shop;
  }

  private List<JsonNode> options(String serial, String kind) {
    List<JsonNode> options = new ArrayList<>();
    ApiClient.json(review.qa.get("/api/v1/review/cases/" + serial + "/options"))
        .forEach(
            o -> {
              if (o.get("kind").asString().equals(kind)) {
                options.add(o);
              }
            });
    return options;
  }

  /** 4 mm short: of the pool 999.9 mm needs nothing, 1004 mm a cut, 995 mm can't help either. */
  @Test
  void theBestSwapComesFirst() {
    shop.pool = 3;
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 996);
    shop.measure(shop.poolSerial(1), 1004);
    shop.measure(shop.poolSerial(2), 999.9);
    shop.measure(shop.poolSerial(3), 995);
    List<JsonNode> swaps = options(shop.serial(2), "SWAP");
    assertThat(swaps)
        .extracting(o -> o.get("terms").get("otherSerial").asString())
        .containsExactly(shop.poolSerial(2), shop.poolSerial(1), shop.poolSerial(3));
    assertThat(swaps)
        .extracting(o -> o.get("possible").asBoolean())
        .containsExactly(true, true, false);
    assertThat(swaps.get(0).get("details").get(0).asString())
        .contains("1 in tolerance, 0 to adjust, 1 out; then 2 in tolerance");
    assertThat(options(shop.serial(2), "TRIM_AGAIN").get(0).get("possible").asBoolean()).isFalse();
    assertThat(options(shop.serial(2), "RECENTRE").get(0).get("consequence").asString())
        .contains("given by its order");
  }

  /** 12 mm to go with 7 mm of 20 left: 5 mm more, and what the plan's aim adds or saves. */
  @Test
  void aCutBeyondTheAllowanceIsComputed() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    long set = shop.member(ofOrder(), shop.serial(1)).get("assembly").get("setId").asLong();
    shop.measure(shop.serial(2), 1015);
    shop.signOff(shop.member(set, shop.serial(2)).get("current"), 13);
    shop.measure(shop.serial(2), 1012);
    JsonNode trim = options(shop.serial(2), "TRIM_AGAIN").get(0);
    assertThat(trim.get("possible").asBoolean()).isTrue();
    assertThat(Double.parseDouble(trim.get("terms").get("extraTrimMm").asString()))
        .isBetween(4.0, 5.1);
    assertThat(trim.get("details").get(0).asString()).isEqualTo("A cut can not be undone.");
  }

  private long ofOrder() {
    return ApiClient.json(review.qa.get("/api/v1/workorders/" + shop.orderNumber()))
        .get("sets")
        .get(0)
        .get("id")
        .asLong();
  }

  /** A cut of 2 mm that really took 2.3 mm leaves the cable 0.3 mm shorter than predicted. */
  @Test
  void aCutsOutcomeIsHeldAgainstItsPrediction() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(2), 1002);
    long set = ofOrder();
    JsonNode cut = shop.member(set, shop.serial(2)).get("current");
    double trimMm = cut.get("trimMm").asDouble();
    shop.signOff(cut, trimMm);
    shop.measure(shop.serial(2), 1002 - trimMm - 0.3);
    JsonNode outcome =
        ApiClient.json(review.qa.get("/api/v1/review/cases/" + shop.serial(2)))
            .get("cuts")
            .get(0)
            .get("outcomes")
            .get(0);
    assertThat(outcome.get("deviationMm").asDouble()).isCloseTo(-0.3, within(0.01));
    assertThat(outcome.get("deviationDeg").asDouble())
        .isCloseTo(0.3 * SmallShop.degPerMm(), within(0.05));
  }

  /**
   * Sixteen equal elements half a wave apart, one of them 30° off. The error-free first sidelobe of
   * a uniform line of 16 is 20·log10 of |sin(16x)/(16·sin x)| at its first side maximum, searched
   * here on a fine grid (C. A. Balanis, Antenna Theory, section on uniform linear arrays; for many
   * elements −13.26 dB); with one error e the gain on axis falls to |15 + exp(je)|²/16².
   */
  @Test
  void theAntennaSeesWhatAnIndependentSumSees() {
    long set = shop.order(16, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (int i = 1; i <= 16; i++) {
      shop.measure(shop.serial(i), i == 8 ? 1000 - 30 / SmallShop.degPerMm() : 1000);
    }
    assertThat(shop.plan(set).get("members")).hasSize(16);
    JsonNode antenna =
        ApiClient.json(review.qa.get("/api/v1/review/cases/" + shop.serial(8) + "/antenna"));
    double sidelobe = 0;
    for (double u = 0.125; u <= 1; u += 1e-5) {
      double x = Math.PI * u / 2;
      sidelobe = Math.max(sidelobe, Math.abs(Math.sin(16 * x) / (16 * Math.sin(x))));
    }
    assertThat(antenna.get("errorFree").get("peakSidelobeDb").asDouble())
        .isCloseTo(20 * Math.log10(sidelobe), within(1e-3));
    double e = Math.toRadians(antenna.get("errorDeg").asDouble());
    double gain = Math.hypot(15 + Math.cos(e), Math.sin(e)) / 16;
    assertThat(antenna.get("asItIs").get("gainLossDb").asDouble())
        .isCloseTo(-20 * Math.log10(gain), within(1e-6));
    assertThat(antenna.get("corrected").get("gainLossDb").asDouble()).isCloseTo(0, within(1e-4));
    assertThat(
            review
                .qa
                .get("/api/v1/review/cases/" + shop.serial(8) + "/antenna?steerDeg=120")
                .statusCode())
        .isEqualTo(400);
  }

  @Test
  void pagesInBothLanguages() {
    shop.pool = 1;
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 996);
    var pages = service.pages(Role.QA);
    assertThat(pages.get("/review/cases/" + shop.serial(2)).body()).contains("Too short");
    assertThat(pages.get("/review/cases/" + shop.serial(2) + "/options").body())
        .contains("What the antenna sees");
    assertThat(pages.get("/review/sets/" + set).body()).contains("/review/cases/" + shop.serial(2));
    assertThat(pages.get("/review/cases/" + shop.poolSerial(1)).body()).contains("in the pool");
    assertThat(pages.get("/review/cases/" + shop.poolSerial(1) + "/options").statusCode())
        .isEqualTo(200);
    pages.reading("de");
    assertThat(pages.get("/review/cases/" + shop.serial(2) + "/options").body())
        .contains("Was die Antenne sieht", "Ein neues Kabel");
  }
}
