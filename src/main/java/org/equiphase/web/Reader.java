package org.equiphase.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Collections;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.LocaleResolver;

/** In which language and unit the person before the screen reads. */
@Component("localeResolver")
public class Reader implements LocaleResolver {

  @Override
  public Locale resolveLocale(HttpServletRequest request) {
    Preferences preferences = preferences();
    Locale chosen = preferences == null ? null : preferences.language();
    if (chosen != null) {
      return chosen;
    }
    if (request.getHeader("Accept-Language") == null) {
      return Sentence.RECORD_LANGUAGE;
    }
    return Collections.list(request.getLocales()).stream()
        .flatMap(wanted -> Texts.LANGUAGES.stream().filter(l -> speaks(l, wanted)))
        .findFirst()
        .orElse(Sentence.RECORD_LANGUAGE);
  }

  private static boolean speaks(Locale language, Locale wanted) {
    return language.getLanguage().equals(wanted.getLanguage());
  }

  @Override
  public void setLocale(
      HttpServletRequest request, @Nullable HttpServletResponse response, @Nullable Locale locale) {
    throw new UnsupportedOperationException("a person's language is set on the account page");
  }

  public static LengthUnit lengthUnit() {
    Preferences preferences = preferences();
    return preferences == null ? LengthUnit.MM : preferences.lengthUnit();
  }

  private static @Nullable Preferences preferences() {
    Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
    return authentication != null && authentication.getPrincipal() instanceof Preferences chosen
        ? chosen
        : null;
  }
}
