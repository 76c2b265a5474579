package org.equiphase.workorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.equiphase.web.InvalidInputException;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SerialPatternTest {

  /** The counter is that of the formatter of the JDK. */
  @Property
  void countsAsTheFormatterWrites(
      @ForAll @IntRange(max = 9000) int first,
      @ForAll @IntRange(min = 1, max = 900) int count,
      @ForAll @IntRange(min = 5, max = 8) int digits) {
    String format = "SW-%0" + digits + "d-x";
    List<String> expected =
        IntStream.range(first, first + count)
            .mapToObj(i -> String.format(Locale.ROOT, format, i))
            .toList();
    String from = String.format(Locale.ROOT, "%0" + digits + "d", first);
    String to = String.format(Locale.ROOT, "%0" + digits + "d", first + count - 1);
    assertThat(SerialPattern.namesOf("serial", "SW-{" + from + ".." + to + "}-x"))
        .isEqualTo(expected);
    assertThat(SerialPattern.read("serial", "SW-{" + from + "}-x").names("serial", count))
        .isEqualTo(expected)
        .doesNotHaveDuplicates();
  }

  @Test
  void withoutLeadingZerosTheDigitsGrow() {
    assertThat(SerialPattern.namesOf("label", "CH{9..11}")).containsExactly("CH9", "CH10", "CH11");
    assertThat(SerialPattern.namesOf("label", "plain")).containsExactly("plain");
  }

  @Test
  void labelsAndSerialsCountTogether() {
    assertThat(positions("CH{1..2}", "S-{01}"))
        .extracting(PositionDraft::label, PositionDraft::serial)
        .containsExactly(tuple("CH1", "S-01"), tuple("CH2", "S-02"));
    assertThat(positions("CH{1..2}", "")).extracting(PositionDraft::serial).containsOnly("");
  }

  @ParameterizedTest
  @CsvSource({
    "S-{016..001}, counts down",
    "S-{001..16}, as many digits",
    "S-{1..1001}, which makes 1001; at most 1000",
    "S-{1..2}{3}, one pair of braces",
    "S-{a..b}, one pair of braces",
    "S-{1, one pair of braces",
    "S-1}, one pair of braces",
    "S-{}, one pair of braces",
    "S-{1..9999999999}, one pair of braces",
  })
  void refusesWhatDoesNotCount(String pattern, String why) {
    assertThatThrownBy(() -> SerialPattern.namesOf("serial", pattern))
        .isInstanceOf(InvalidInputException.class)
        .hasMessageContaining(pattern)
        .hasMessageContaining(why);
  }

  @ParameterizedTest
  @CsvSource({
    "CH{1..3}, S-{1..4}, 'makes 4 where 3 are needed'",
    "CH{1..3}, S-1, one serial for 3 positions",
    "CH1, S-{1..4}, one position for 4 serials",
    "CH{001..120}, S-{01}, do not reach for 120",
  })
  void refusesLabelsAndSerialsThatDoNotAgree(String label, String serial, String why) {
    assertThatThrownBy(() -> positions(label, serial))
        .isInstanceOf(InvalidInputException.class)
        .hasMessageContaining(why);
  }

  private static List<PositionDraft> positions(String label, String serial) {
    return SerialPattern.positions("", new PositionDraft(label, serial, 0, 0));
  }
}
