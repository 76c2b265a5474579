package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;

/** Assignments against a search through all of them; costs are drawn from a seed. */
class AssignmentTest {

  @Property(tries = 300, seed = "1")
  void leastSumIsThatOfAllAssignments(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @IntRange(min = 1, max = 7) int rows,
      @ForAll @IntRange(min = 0, max = 2) int spare) {
    double[][] cost = draw(seed, rows, Math.min(7, rows + spare));

    int[] columns = Assignment.leastSum(cost);

    assertThat(Arrays.stream(columns).distinct().count()).isEqualTo(rows);
    assertThat(Assignment.sum(cost, columns))
        .isCloseTo(least(cost, c -> Assignment.sum(cost, c)), within(1e-9));
  }

  @Property(tries = 300, seed = "2")
  void leastWorstIsThatOfAllAssignmentsAndAmongThoseTheLeastSum(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @IntRange(min = 1, max = 7) int rows,
      @ForAll @IntRange(min = 0, max = 2) int spare) {
    double[][] cost = draw(seed, rows, Math.min(7, rows + spare));

    int[] columns = Assignment.leastWorst(cost);

    assertThat(Arrays.stream(columns).distinct().count()).isEqualTo(rows);
    double worst = least(cost, c -> Assignment.worst(cost, c));
    assertThat(Assignment.worst(cost, columns)).isEqualTo(worst);
    assertThat(Assignment.sum(cost, columns))
        .isCloseTo(
            least(
                cost,
                c ->
                    Assignment.worst(cost, c) <= worst
                        ? Assignment.sum(cost, c)
                        : Double.POSITIVE_INFINITY),
            within(1e-9));
  }

  /**
   * Worked by hand. Rows to columns 012, 021, 102, 120, 201, 210 cost 9, 5, 13, 7, 9, 7. Of the two
   * by two, 0 + 5 is the lesser sum and 3 + 3 the lesser worst.
   */
  @Test
  void bothSumsOfAnExampleByHand() {
    double[][] cost = {{0, 1, 3}, {3, 0, 2}, {4, 3, 9}};

    assertThat(Assignment.sum(cost, Assignment.leastSum(cost))).isEqualTo(5);
    assertThat(Assignment.leastSum(cost)).containsExactly(0, 2, 1);
    assertThat(Assignment.leastWorst(cost)).containsExactly(0, 2, 1);
    double[][] apart = {{0, 3}, {3, 5}};
    assertThat(Assignment.leastSum(apart)).containsExactly(0, 1);
    assertThat(Assignment.leastWorst(apart)).containsExactly(1, 0);
  }

  @Test
  void refusesWhatIsNoTableOfCosts() {
    assertThat(Assignment.leastSum(new double[0][])).isEmpty();
    assertThatThrownBy(() -> Assignment.leastSum(new double[][] {{1}, {2}}))
        .isInstanceOf(InvalidProblemException.class)
        .hasMessageContaining("as many columns as rows");
    assertThatThrownBy(() -> Assignment.leastSum(new double[][] {{1, 2}, {3}}))
        .isInstanceOf(InvalidProblemException.class);
    assertThatThrownBy(() -> Assignment.leastSum(new double[][] {{Double.NaN}}))
        .isInstanceOf(InvalidProblemException.class)
        .hasMessageContaining("finite");
    assertThatThrownBy(() -> Assignment.leastWorst(new double[][] {{-1}}))
        .isInstanceOf(InvalidProblemException.class)
        .hasMessageContaining("at least 0");
  }

  /** Half of them are of few different costs, so that many assignments are equally good. */
  private static double[][] draw(long seed, int rows, int columns) {
    Random random = new Random(seed);
    boolean coarse = random.nextBoolean();
    double[][] cost = new double[rows][columns];
    for (double[] row : cost) {
      Arrays.setAll(row, j -> coarse ? random.nextInt(4) : 10 * random.nextDouble());
    }
    return cost;
  }

  private static double least(double[][] cost, ToDoubleFunction<int[]> price) {
    return least(cost, price, new int[cost.length], 0, new boolean[cost[0].length]);
  }

  private static double least(
      double[][] cost, ToDoubleFunction<int[]> price, int[] columns, int row, boolean[] taken) {
    if (row == cost.length) {
      return price.applyAsDouble(columns);
    }
    double least = Double.POSITIVE_INFINITY;
    for (int j = 0; j < taken.length; j++) {
      if (!taken[j]) {
        taken[j] = true;
        columns[row] = j;
        least = Math.min(least, least(cost, price, columns, row + 1, taken));
        taken[j] = false;
      }
    }
    return least;
  }
}
