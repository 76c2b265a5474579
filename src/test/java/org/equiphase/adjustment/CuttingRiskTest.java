package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** What instructions promise, and what finished cuts teach. */
@ExtendWith(RunningService.Extension.class)
class CuttingRiskTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";

  private final SmallShop shop;

  CuttingRiskTest(RunningService service) {
    shop = new SmallShop(service);
  }

  /** u = 0.2° and 1°/√3 of drift; P(|x| ≤ 3°) for x ~ N(−2°, 0.611°): JCGM 106:2012, clause 7. */
  @Test
  void aVerdictCarriesItsProbability() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000 + 2 / SmallShop.degPerMm());
    JsonNode member = shop.member(set, shop.serial(1));
    assertThat(member.get("verdict").asString()).isEqualTo("IN_TOLERANCE");
    // Φ(1/0.61101) = Φ(1.63663) = 0.94914, by a table of the normal distribution.
    assertThat(member.get("probabilityIn").asDouble()).isCloseTo(0.9491, within(1e-4));
  }

  @Test
  void aCutAimsAtTheCentreAndNotAtTheEdgeOfTheAim() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode instruction = shop.member(set, shop.serial(1)).get("current");
    assertThat(instruction.get("trimMm").asDouble()).isCloseTo(4.0, within(1e-9));
    JsonNode chance = instruction.get("chance");
    assertThat(chance.get("staged").asBoolean()).isFalse();
    assertThat(chance.get("probabilityIn").asDouble()).isBetween(0.99, 1.0);
    assertThat(chance.get("probabilityTooShort").asDouble()).isLessThan(0.02);
  }

  /** With cuts that miss by 0.6 mm (2.9°) the centre would be too short in one case of six. */
  @Test
  void aRoughSawIsToldToCutInStages() {
    shop.cutUncertaintyMm = 0.6;
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1006);
    JsonNode first = shop.member(set, shop.serial(1)).get("current");
    assertThat(first.get("trimMm").asDouble()).isBetween(4.5, 5.6);
    assertThat(first.get("chance").get("staged").asBoolean()).isTrue();
    assertThat(first.get("chance").get("probabilityTooShort").asDouble()).isLessThan(0.02);
    assertThat(first.get("chance").get("expectedCuts").asDouble()).isBetween(1.0, 2.5);
    assertThat(first.get("reason").asString()).contains("measure it again");

    double doneMm = first.get("trimMm").asDouble();
    assertThat(shop.signOff(first, doneMm).statusCode()).isEqualTo(200);
    shop.measure(shop.serial(1), 1006 - doneMm + 1);
    JsonNode second = shop.member(set, shop.serial(1)).get("current");
    assertThat(second.get("state").asString()).isEqualTo("ISSUED");
    assertThat(second.get("trimMm").asDouble()).isLessThan(1006 - doneMm + 1 - 1000);
  }

  /** The cable's true factor is the catalog's in this shop; its uncertainty has to shrink. */
  @Test
  void finishedCutsTeachTheVelocityFactor() {
    long set = shop.order(3, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    double before = velocity(set).get("standardUncertainty").asDouble();
    assertThat(before).isCloseTo(0.002 / Math.sqrt(3), within(1e-12));
    for (int i = 1; i <= 2; i++) {
      shop.measure(shop.serial(i), 1010);
      JsonNode cut = shop.member(set, shop.serial(i)).get("current");
      double trimMm = cut.get("trimMm").asDouble();
      assertThat(shop.signOff(cut, trimMm).statusCode()).isEqualTo(200);
      shop.measure(shop.serial(i), 1010 - trimMm);
    }
    JsonNode learned = velocity(set);
    assertThat(learned.get("cuts").asInt()).isEqualTo(2);
    assertThat(learned.get("outliers").isEmpty()).isTrue();
    assertThat(learned.get("standardUncertainty").asDouble()).isLessThan(before);
    assertThat(learned.get("velocityFactor").asDouble()).isCloseTo(0.695, within(1e-6));

    // Signed off as 10 mm, but the phase moved by 5 mm only.
    shop.measure(shop.serial(3), 1010);
    JsonNode wrong = shop.member(set, shop.serial(3)).get("current");
    assertThat(shop.signOff(wrong, 10).statusCode()).isEqualTo(200);
    shop.measure(shop.serial(3), 1005);
    JsonNode after = velocity(set);
    assertThat(after.get("cuts").asInt()).isEqualTo(2);
    assertThat(after.get("outliers").get(0).asString()).isEqualTo(shop.serial(3));
  }

  @Test
  void aMemberWhoseLossDoesNotGoWithTheOthersIsHeld() {
    shop.lossSpreadDb = 0.2;
    long set = shop.order(3, "SET", "ABSOLUTE", "", SIMPLE);
    measure(1, 1.10);
    measure(2, 1.22);
    measure(3, 1.55);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("IN_TOLERANCE");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("IN_TOLERANCE");
    JsonNode odd = shop.member(set, shop.serial(3));
    assertThat(odd.get("verdict").asString()).isEqualTo("OUT");
    assertThat(odd.get("reason").asString()).contains("Insertion loss 1.55 dB at 2.8000 GHz");
    JsonNode spread = shop.plan(set).get("lossSpreads").get(0);
    assertThat(spread.get("spreadDb").asDouble()).isCloseTo(0.12, within(1e-9));
    assertThat(spread.get("limitDb").asDouble()).isEqualTo(0.2);
  }

  private void measure(int i, double lossDb) {
    HttpResponse<String> answer = shop.tryMeasure(shop.serial(i), 1000, lossDb);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
  }

  private JsonNode velocity(long set) {
    return shop.plan(set).get("velocity");
  }
}
