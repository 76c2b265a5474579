package org.equiphase.account;

import java.util.Locale;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.Sentence;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** In which language and unit each person reads. */
@Service
class PersonPreferences {

  private final JdbcClient jdbc;

  PersonPreferences(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  SignedIn applied(SignedIn person) {
    return jdbc.sql("select language, length_unit from person_preference where person_id = ?")
        .param(person.personId())
        .query(
            (row, number) ->
                person.with(
                    language(row.getString("language")),
                    LengthUnit.valueOf(row.getString("length_unit"))))
        .optional()
        .orElse(person);
  }

  /** Keeps the choice; empty language leaves it to the browser. */
  @Transactional
  SignedIn change(SignedIn person, String language, LengthUnit lengthUnit) {
    if (!language.isEmpty() && !Texts.LANGUAGES.contains(Locale.forLanguageTag(language))) {
      throw InvalidInputException.of(
          "language", Sentence.of("account.languages", language, Texts.LANGUAGES.toString()));
    }
    jdbc.sql("delete from person_preference where person_id = ?").param(person.personId()).update();
    jdbc.sql("insert into person_preference (person_id, language, length_unit) values (?, ?, ?)")
        .param(person.personId())
        .param(language.isEmpty() ? null : language)
        .param(lengthUnit.name())
        .update();
    return person.with(language(language), lengthUnit);
  }

  private static @Nullable Locale language(@Nullable String tag) {
    return tag == null || tag.isEmpty() ? null : Locale.forLanguageTag(tag);
  }
}
