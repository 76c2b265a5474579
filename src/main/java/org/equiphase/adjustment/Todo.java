package org.equiphase.adjustment;

import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.web.Figure;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.Reader;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

/** What to do with a member, in the fewest words; lengths in the reader's unit. */
@Component("todo")
public class Todo {

  private static final int INCH_DECIMALS = 3;

  public Sentence of(MemberPlan member) {
    Instruction instruction = member.current();
    return switch (member.verdict()) {
      case UNREAD -> Sentence.of("todo.measure");
      case WAITING -> Sentence.of("todo.wait");
      case IN_TOLERANCE ->
          Sentence.of(
              switch (member.assembly().state()) {
                case MATCHED -> "todo.matched";
                case RELEASED -> "todo.released";
                default -> "todo.in";
              });
      case MEASURE_AGAIN -> Sentence.of("todo.measureAgain");
      case CHECK_REFERENCE -> Sentence.of("todo.checkReference");
      case CONCEDED -> Sentence.of("todo.conceded");
      case SCRAPPED -> Sentence.of("todo.scrapped");
      case HELD -> Sentence.of("todo.held");
      case OUT -> Sentence.of("todo.out");
      case ADJUST -> instruction == null ? Sentence.of("todo.wait") : of(instruction);
    };
  }

  /** A cut or a setting. */
  public Sentence of(Instruction instruction) {
    LengthUnit unit = Reader.lengthUnit();
    return switch (instruction.action()) {
      case HOLD -> Sentence.of("todo.out");
      case TRIM -> {
        Instruction.Chance chance = instruction.chance();
        boolean staged = chance != null && chance.staged();
        yield Sentence.of(
            (staged ? "todo.cutStaged." : "todo.cut.") + unit, length(instruction.trimMm(), unit));
      }
      case STRETCH -> {
        Double settingMm = instruction.settingMm();
        yield Sentence.of("todo.set." + unit, length(settingMm == null ? 0 : settingMm, unit));
      }
    };
  }

  private static Figure length(double lengthMm, LengthUnit unit) {
    return unit == LengthUnit.MM
        ? Figure.plain(lengthMm)
        : Figure.of(unit.fromMm(lengthMm), INCH_DECIMALS);
  }
}
