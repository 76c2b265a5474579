package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.equiphase.web.InvalidInputException;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What NIST SP 800-63B (section 5.1.1.2) tells to compare new passwords with: passwords known from
 * breaches, dictionary words, repetition and sequences, and words of the context.
 */
class PasswordRulesTest {

  @ParameterizedTest
  @ValueSource(
      strings = {
        "password1234",
        "Password2026!",
        "letmeinletmein",
        "iloveyou2026",
        "trustno1trustno1",
        "aaaaaaaaaaaa",
        "123456789012",
        "qwertyuiop12",
        "1q2w3e4r5t6y",
        "robinequiphase",
        "Robin Robin Robin",
        "technician12",
        DemoAccounts.PASSWORD
      })
  void whatGuessersTryFirstIsRefused(String password) {
    assertThatThrownBy(() -> PasswordRules.check("password", password, "robin", "Robin of the Lab"))
        .isInstanceOf(InvalidInputException.class)
        .hasMessageContaining("too easy to guess");
  }

  /** The second and third have no capitals, digits or marks: 800-63B asks for no such mixture. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "kp7 fh2 xx9 qq",
        "correct horse battery staple",
        "öde düne früh zweig",
        "Zwölf Boxkämpfer!"
      })
  void othersDo(String password) {
    assertThatCode(() -> PasswordRules.check("password", password, "robin", "Robin"))
        .doesNotThrowAnyException();
  }
}
