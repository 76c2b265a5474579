package org.equiphase.account;

import com.nulabinc.zxcvbn.Zxcvbn;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;

/**
 * Which passwords do: long enough, and hard enough to guess. How hard is estimated by zxcvbn, which
 * knows 30 000 common passwords, common words and names, rows of keys, dates and repetition.
 */
final class PasswordRules {

  static final int SHORTEST = 12;

  /** What bcrypt takes in; it would ignore the rest. */
  private static final int LONGEST_BYTES = 72;

  /** Of 0 to 4; from 3 on a guesser needs 100 million tries (zxcvbn's own scale). */
  private static final int LEAST_SCORE = 3;

  private static final Zxcvbn ESTIMATE = new Zxcvbn();

  private PasswordRules() {}

  /**
   * Refuses a password that does not do.
   *
   * @param about texts that a guesser would try first, such as the person's names
   * @throws InvalidInputException naming the field
   */
  static void check(String field, String password, String... about) {
    List<FieldProblem> problems = new ArrayList<>();
    check(field, password, problems, about);
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }

  static void check(String field, String password, List<FieldProblem> problems, String... about) {
    if (password.codePointCount(0, password.length()) < SHORTEST) {
      problems.add(new FieldProblem(field, Sentence.of("account.passwordTooShort", SHORTEST)));
    } else if (password.getBytes(StandardCharsets.UTF_8).length > LONGEST_BYTES) {
      problems.add(new FieldProblem(field, Sentence.of("account.passwordTooLong", LONGEST_BYTES)));
    } else if (ESTIMATE.measure(password, known(about)).getScore() < LEAST_SCORE) {
      problems.add(new FieldProblem(field, Sentence.of("account.passwordGuessable")));
    }
  }

  private static List<String> known(String... about) {
    List<String> known = new ArrayList<>(List.of("equiphase"));
    for (String text : about) {
      known.add(text);
      known.addAll(Arrays.asList(text.split("[^\\p{L}\\p{N}]+", -1)));
    }
    known.removeIf(String::isEmpty);
    return known;
  }
}
