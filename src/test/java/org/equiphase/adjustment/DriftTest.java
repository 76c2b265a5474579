package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.equiphase.RunningService;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/**
 * What reference checks do to plans. Linear between checks, held past the limit: common practice,
 * no source.
 */
@ExtendWith(RunningService.Extension.class)
class DriftTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";
  private final SmallShop shop;
  private final Instant now;

  DriftTest(RunningService service) {
    shop = new SmallShop(service);
    now = Instant.now().truncatedTo(ChronoUnit.MILLIS);
  }

  @Test
  void driftBetweenTwoChecksIsTakenOffInProportionToTime() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    Instant first = now.plusSeconds(5);
    shop.checkReference(30.4, first);
    measure(1000, first.plusSeconds(30));
    shop.checkReference(31.2, first.plusSeconds(120));

    JsonNode spot = member(set).get("spots").get(0);
    // The shop's first check showed 30°; a quarter of the way from 30.4° to 31.2° lies 30.6°.
    assertThat(spot.get("sum").get("driftDeg").asDouble()).isCloseTo(0.6, within(1e-6));
    assertThat(spot.get("errorDeg").asDouble()).isCloseTo(-0.6, within(1e-6));
    assertThat(member(set).get("drift").get("state").asString()).isEqualTo("BRACKETED");
  }

  @Test
  void theSumOfATermByTermErrorIsTheError() {
    long set = shop.order(1, "SET", "ABSOLUTE", "", SIMPLE);
    shop.checkReference(30.7, null);
    measure(1001, null);

    JsonNode spot = member(set).get("spots").get(0);
    JsonNode sum = spot.get("sum");
    double phaseDeg =
        sum.get("shownDeg").asDouble()
            - sum.get("planeCorrectionDeg").asDouble()
            + sum.get("turnsDeg").asDouble()
            + sum.get("temperatureDeg").asDouble()
            - sum.get("driftDeg").asDouble();
    assertThat(sum.get("driftDeg").asDouble()).isCloseTo(0.7, within(1e-9));
    assertThat(sum.get("turnsDeg").asDouble() % 360).isCloseTo(0, within(1e-6));
    assertThat(phaseDeg).isCloseTo(sum.get("phaseDeg").asDouble(), within(1e-9));
    assertThat(phaseDeg - spot.get("targetPhaseDeg").asDouble())
        .isCloseTo(spot.get("errorDeg").asDouble(), within(1e-9));
  }

  @Test
  void readingsBetweenChecksThatDifferTooMuchAreHeldUntilMeasuredAgain() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    measure(1000, null);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MATCHED");

    shop.checkReference(31.5, now.plusSeconds(300));
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("ON_HOLD");
    assertThat(member(set).get("reason").asString())
        .contains("drifted 1.50°", "more than its limit of 1.00°", "measure this assembly again");

    // What the drifted bench shows of the same cable, 1.5° more.
    measure(1000 - 1.5 / SmallShop.degPerMm(), now.plusSeconds(310));
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MATCHED");
    assertThat(member(set).get("spots").get(0).get("errorDeg").asDouble())
        .isCloseTo(0, within(1e-6));
  }

  @Test
  void noCutIsAskedForWhileTheReferenceCheckIsOverdue() {
    SmallShop other = shop.another();
    long otherSet = other.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    Instant longAgo = now.minus(Duration.ofHours(5));
    other.checkReference(30, longAgo);
    HttpResponse<String> read =
        other.tryMeasure(other.serial(1), 1003, 1.2, longAgo.plus(Duration.ofHours(1)));
    assertThat(read.statusCode()).as(read.body()).isEqualTo(201);
    JsonNode stopped = other.member(otherSet, other.serial(1));
    assertThat(stopped.get("verdict").asString()).isEqualTo("CHECK_REFERENCE");
    assertThat(stopped.get("current").isNull()).isTrue();
    assertThat(stopped.get("reason").asString()).contains("is overdue");

    other.checkReference(30, null);
    JsonNode goesOn = other.member(otherSet, other.serial(1));
    assertThat(goesOn.get("verdict").asString()).isEqualTo("ADJUST");
    assertThat(goesOn.get("current").get("action").asString()).isEqualTo("TRIM");
  }

  @Test
  void aReadingBeforeAnyCheckDoesNotCount() {
    SmallShop other = shop.another();
    long set = other.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    other.tryMeasure(other.serial(1), 1003, 1.2, null);
    JsonNode member = other.member(set, other.serial(1));
    assertThat(member.get("verdict").asString()).isEqualTo("CHECK_REFERENCE");
    assertThat(member.get("reason").asString()).contains("measure it, then this assembly again");
    assertThat(member.get("assembly").get("state").asString()).isEqualTo("MEASURED");
  }

  private JsonNode member(long set) {
    return shop.member(set, shop.serial(1));
  }

  private void measure(double lengthMm, @Nullable Instant takenAt) {
    HttpResponse<String> answer = shop.tryMeasure(shop.serial(1), lengthMm, 1.2, takenAt);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
  }
}
