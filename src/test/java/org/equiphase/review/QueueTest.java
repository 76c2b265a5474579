package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;

/** Each kind of finding comes with its cause and goes with it. */
@ExtendWith(RunningService.Extension.class)
class QueueTest {

  private final RunningService service;
  private final ReviewShop review;
  private final SmallShop shop;

  QueueTest(RunningService service) {
    this.service = service;
    review = new ReviewShop(service);
    shop = review.shop;
  }

  private JsonNode queue(String filter) {
    return ApiClient.json(
        review.qa.get("/api/v1/review/queue?order=" + shop.orderNumber() + filter));
  }

  private List<String> kinds() {
    List<String> kinds = new ArrayList<>();
    queue("").forEach(f -> kinds.add(f.get("kind").asString()));
    return kinds;
  }

  @Test
  void aShortMemberStandsThereUntilItIsReplaced() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    assertThat(kinds()).isEmpty();
    shop.measure(shop.serial(2), 996);
    assertThat(kinds()).containsExactly("SHORT");
    JsonNode finding = queue("").get(0);
    assertThat(finding.get("worstErrorDeg").asDouble())
        .isCloseTo(4 * SmallShop.degPerMm(), within(1e-6));
    assertThat(finding.get("missing").asInt()).isEqualTo(1);

    String successor = shop.serial(2) + "-N";
    review.decided(shop.serial(2), "REPLACE", "\"newSerial\": \"%s\"".formatted(successor));
    assertThat(kinds()).isEmpty();
  }

  /** 2.5 dB against a limit of 2 dB. */
  @Test
  void lossOverItsLimit() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.tryMeasure(shop.serial(1), 1000, 2.5);
    assertThat(kinds()).containsExactly("LOSS");
    shop.measure(shop.serial(1), 1000);
    assertThat(kinds()).isEmpty();
  }

  @Test
  void aHoldAndItsRelease() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    String path = "/api/v1/review/assemblies/" + shop.serial(1);
    review.qa.post(path + "/hold", "{\"reason\": \"dented\"}");
    assertThat(kinds()).containsExactly("HELD");
    assertThat(queue("").get(0).get("reason").asString()).isEqualTo("dented");
    review.qa.post(path + "/release", "{\"reason\": \"not that bad\"}");
    assertThat(kinds()).isEmpty();
  }

  @Test
  void aSecondSignatureIsWaitedFor() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 996);
    long id = review.decided(shop.serial(2), "CONCESSION", "").get("id").asLong();
    assertThat(kinds()).containsExactly("AWAITS_SECOND_SIGNATURE", "HELD");
    review.countersign(review.second, id, true);
    assertThat(kinds()).isEmpty();
  }

  /**
   * With simple acceptance at ± 3°, an error of 2.9° is inside with probability Φ(0.1°/u) less the
   * tail on the far side (JCGM 106, 7.2; Φ by Apache Commons Statistics).
   */
  @Test
  void aMemberNearTheLimitIsAtRisk() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1000 - 2.9 / SmallShop.degPerMm());
    assertThat(shop.member(set, shop.serial(2)).get("verdict").asString())
        .isEqualTo("IN_TOLERANCE");
    assertThat(kinds()).containsExactly("AT_RISK");
    double u =
        shop.member(set, shop.serial(2))
            .get("spots")
            .get(0)
            .get("standardUncertaintyDeg")
            .asDouble();
    NormalDistribution normal = NormalDistribution.of(2.9, u);
    assertThat(queue("").get(0).get("probabilityIn").asDouble())
        .isCloseTo(
            normal.cumulativeProbability(3) - normal.cumulativeProbability(-3), within(1e-6));

    ApiClient administrator = service.api(Role.ADMINISTRATOR);
    String path = "/api/v1/review/settings";
    String strict = administrator.get(path).body();
    administrator.put(
        path, strict.replace("\"atRiskProbability\":0.95", "\"atRiskProbability\":0.55"));
    assertThat(kinds()).isEmpty();
    String relaxed = administrator.get(path).body();
    administrator.put(
        path, relaxed.replace("\"atRiskProbability\":0.55", "\"atRiskProbability\":0.95"));
    assertThat(kinds()).containsExactly("AT_RISK");
  }

  @Test
  void whatBlocksAShipmentComesFirst() {
    shop.order(3, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(2), 996);
    shop.tryMeasure(shop.serial(3), 1000, 2.5);
    // Three are missing in this set, one in the other.
    ReviewShop other = new ReviewShop(service);
    other.shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    other.shop.measure(other.shop.serial(1), 1000);
    other.shop.tryMeasure(other.shop.serial(2), 1000, 2.5);
    List<String> serials = new ArrayList<>();
    ApiClient.json(review.qa.get("/api/v1/review/queue?limit=500"))
        .forEach(f -> serials.add(f.get("serial").asString()));
    assertThat(serials).containsSubsequence(other.shop.serial(2), shop.serial(2), shop.serial(3));
  }

  @Test
  void pagesGoOnWhereTheLastEnded() {
    shop.order(4, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (int i = 1; i <= 4; i++) {
      shop.measure(shop.serial(i), 996);
    }
    JsonNode all = queue("");
    assertThat(all).hasSize(4);
    JsonNode first = queue("&limit=2");
    JsonNode second = queue("&limit=2&after=" + first.get(1).get("id").asLong());
    assertThat(second.get(0)).isEqualTo(all.get(2));
    assertThat(second.get(1)).isEqualTo(all.get(3));
  }

  @Test
  void whereTheLastOneIsGoneTheQueueStartsAgain() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 996);
    shop.measure(shop.serial(2), 996);
    assertThat(queue("&after=999999999")).hasSize(2);
  }

  /** The links of the page carry the whole filter along. */
  @Test
  void kindsAreChosenOnTopOfTheFilter() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 996);
    shop.tryMeasure(shop.serial(2), 1000, 2.5);
    String filter = "order=" + shop.orderNumber() + "&bench=" + shop.benchId;
    String page = service.pages(Role.QA).get("/review?kind=LOSS&" + filter).body();
    String inLinks = filter.replace("&", "&amp;");
    assertThat(page)
        .contains("/review?" + inLinks + "\"")
        .contains("/review?kind=SHORT&amp;kind=LOSS&amp;" + inLinks + "\"");
  }

  @Test
  void filtersAndSearchNarrowIt() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 996);
    shop.tryMeasure(shop.serial(2), 1000, 2.5);
    assertThat(queue("&kind=LOSS")).hasSize(1);
    assertThat(queue("&kind=LOSS&kind=SHORT")).hasSize(2);
    assertThat(queue("&search=" + shop.serial(1).toLowerCase(java.util.Locale.ROOT))).hasSize(1);
    assertThat(queue("&search=%25")).isEmpty();
    assertThat(queue("&bench=" + shop.benchId)).hasSize(2);
    assertThat(queue("&person=nobody")).isEmpty();
    assertThat(queue("&dueBefore=2000-01-01")).isEmpty();
    JsonNode counts =
        ApiClient.json(review.qa.get("/api/v1/review/queue/counts?order=" + shop.orderNumber()));
    assertThat(counts.get("LOSS").asInt()).isEqualTo(1);
    assertThat(counts.get("SHORT").asInt()).isEqualTo(1);
    String page = service.pages(Role.QA).get("/review?order=" + shop.orderNumber()).body();
    assertThat(page).contains(shop.serial(1)).contains("too short").contains("insertion loss");
    String german =
        service.pages(Role.QA).reading("de").get("/review?order=" + shop.orderNumber()).body();
    assertThat(german).contains("zu kurz").contains("2 des Satzes fehlen");
  }

  /** What a start after an upgrade does; sets made since are none of its business. */
  @Test
  void onlySetsOlderThanTheFindingsAreFilledIn() {
    SmallShop newer = new ReviewShop(service).shop;
    long older = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    newer.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (SmallShop each : List.of(shop, newer)) {
      each.measure(each.serial(1), 1000);
      each.measure(each.serial(2), 996);
    }
    JdbcClient jdbc = service.bean(JdbcClient.class);
    jdbc.sql("delete from review_finding where order_number in (?, ?)")
        .params(shop.orderNumber(), newer.orderNumber())
        .update();
    jdbc.sql("update review_finding_fill set last_set_id = ?, until_set_id = ?")
        .params(older - 1, older)
        .update();

    Findings findings = service.bean(Findings.class);
    assertThat(findings.fillSome(20)).isTrue();
    assertThat(findings.fillSome(20)).isFalse();
    assertThat(kinds()).containsExactly("SHORT");
    assertThat(ApiClient.json(review.qa.get("/api/v1/review/queue?order=" + newer.orderNumber())))
        .isEmpty();
  }
}
