package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/**
 * What centring a set anew would bring, against trying every centre. The search knows lengths and
 * tolerances only: of the solver, the planner and the phases it uses nothing.
 */
@ExtendWith(RunningService.Extension.class)
class RecentreTest {

  private static final int MEMBERS = 6;
  private static final double STEP_MM = 0.005;
  private static final double TOLERANCE_MM = 3 / SmallShop.degPerMm();
  private static final double AIM_MM = 0.3 * TOLERANCE_MM;
  private static final double ALLOWANCE_MM = 20;

  private static final Pattern AFTERWARDS =
      Pattern.compile("best target: (\\d+) in tolerance, (\\d+) to adjust, (\\d+) out");
  private static final Pattern CUT = Pattern.compile("(\\S+): cut ([\\d.]+) mm");

  private final RunningService service;

  RecentreTest(RunningService service) {
    this.service = service;
  }

  /** Fewest out, then fewest to adjust. */
  private record Best(int out, int adjusted) {

    boolean isBetterThan(Best other) {
      return out < other.out || (out == other.out && adjusted < other.adjusted);
    }
  }

  private static Best tried(double[] lengthMm, double[] trimmedMm) {
    Best best = new Best(MEMBERS, 0);
    for (double centre = 960; centre < 1025; centre += STEP_MM) {
      int out = 0;
      int adjusted = 0;
      for (int i = 0; i < MEMBERS; i++) {
        double longByMm = lengthMm[i] - centre;
        if (Math.abs(longByMm) > TOLERANCE_MM) {
          boolean cuttable = longByMm > -AIM_MM && longByMm - AIM_MM <= ALLOWANCE_MM - trimmedMm[i];
          adjusted += cuttable ? 1 : 0;
          out += cuttable ? 0 : 1;
        }
      }
      Best here = new Best(out, adjusted);
      best = here.isBetterThan(best) ? here : best;
    }
    return best;
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void bringsWhatTryingEveryCentreFinds(long seed) {
    ReviewShop review = new ReviewShop(service);
    SmallShop shop = review.shop;
    Random random = new Random(seed);
    long set = shop.order(MEMBERS, "SET", "ABSOLUTE", "", SIMPLE);
    double[] lengthMm = new double[MEMBERS];
    double[] trimmedMm = new double[MEMBERS];
    for (int i = 0; i < MEMBERS; i++) {
      // The last one is too long for any centre that the others could have.
      lengthMm[i] = i == MEMBERS - 1 ? 1012 : 998 + 4 * random.nextDouble();
      shop.measure(shop.serial(i + 1), lengthMm[i]);
    }
    int last = MEMBERS - 1;
    JsonNode cut = shop.member(set, shop.serial(MEMBERS)).get("current");
    trimmedMm[last] = cut.get("trimMm").asDouble() + 1 + 6 * random.nextDouble();
    assertThat(shop.signOff(cut, trimmedMm[last]).statusCode()).isEqualTo(200);
    lengthMm[last] -= trimmedMm[last];
    shop.measure(shop.serial(MEMBERS), lengthMm[last]);

    JsonNode option = option(review, shop.serial(MEMBERS));
    Matcher found = AFTERWARDS.matcher(option.get("consequence").asString());
    assertThat(found.find()).as(option.toString()).isTrue();
    Best best = tried(lengthMm, trimmedMm);
    assertThat(Integer.parseInt(found.group(3))).as(option.toString()).isEqualTo(best.out());
    assertThat(Integer.parseInt(found.group(2))).as(option.toString()).isEqualTo(best.adjusted());

    assertThat(cuts(option, shop, lengthMm)).isEqualTo(best.adjusted());
    assertThat(largestGroup(lengthMm)).isEqualTo(MEMBERS - best.out());
  }

  private static JsonNode option(ReviewShop review, String serial) {
    for (JsonNode option :
        ApiClient.json(review.qa.get("/api/v1/review/cases/" + serial + "/options"))) {
      if (option.get("kind").asString().equals("RECENTRE")) {
        return option;
      }
    }
    throw new AssertionError("centring anew is not offered");
  }

  /** Makes the cuts that the option names and tells how many. */
  private static int cuts(JsonNode option, SmallShop shop, double[] lengthMm) {
    int count = 0;
    for (JsonNode detail : option.get("details")) {
      Matcher cut = CUT.matcher(detail.asString());
      if (cut.find()) {
        for (int i = 0; i < MEMBERS; i++) {
          if (shop.serial(i + 1).equals(cut.group(1))) {
            lengthMm[i] -= Double.parseDouble(cut.group(2));
            count++;
          }
        }
      }
    }
    return count;
  }

  /** Most members that lie within twice the tolerance of each other. */
  private static int largestGroup(double[] lengthMm) {
    int most = 0;
    for (double shortest : lengthMm) {
      int inside = 0;
      for (double length : lengthMm) {
        inside += length >= shortest && length <= shortest + 2 * TOLERANCE_MM + 1e-9 ? 1 : 0;
      }
      most = Math.max(most, inside);
    }
    return most;
  }
}
