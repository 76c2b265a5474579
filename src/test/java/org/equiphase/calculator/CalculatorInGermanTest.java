package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.web.util.HtmlUtils;

/** The calculations as a German reader sees them: words, decimal commas, and the same figures. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CalculatorInGermanTest {

  private static final Pattern NUMBER = Pattern.compile("\\d+(?:[.,]\\d+)?");

  /** Sections of a handbook; all other numbers with a point are figures. */
  private static final List<String> SECTIONS = List.of("6.3", "2.2", "6.1");

  /** Words that every English sentence has one of, and no German one. */
  private static final Pattern ENGLISH =
      Pattern.compile("\\b(the|of|and|with|is|are|at|to|for|each|no|by)\\b");

  private final RunningService service;
  private final PageClient english;
  private final PageClient german;

  CalculatorInGermanTest(RunningService service) {
    this.service = service;
    this.english = service.pages(Role.TECHNICIAN);
    this.german = service.pages(Role.TECHNICIAN).reading("de-DE,de;q=0.9,en;q=0.5");
  }

  @ParameterizedTest
  @CsvSource({
    "length, Phase und Länge",
    "sweep, Sweep",
    "stretcher, Leitungsstrecker",
    "reflection, Reflexion durch eine Leitung",
    "set, Abgeglichener Satz",
    "pool, Sätze aus einem Vorrat",
    "cut, Schnitt bei Unsicherheit",
    "conformity, Konformität",
    "antenna, Wirkung auf die Antenne",
    "budget, Unsicherheitsbudget",
    "drift, Drift",
    "chart, Regelkarte",
    "capability, Prozessfähigkeit",
    "velocity, Verkürzungsfaktor eines Loses",
    "gauge, Messsystemanalyse"
  })
  void itsExampleHasGermanWordsAndTheSameFigures(String name, String heading) throws IOException {
    Calculation calculation = calculation(name);
    String page = page(german, calculation);
    assertThat(page).contains("lang=\"de\"", "<h1>" + heading + "</h1>");
    assertThat(german.get("/calculator").body()).contains(">" + heading + "</a>");

    String result = result(page);
    assertThat(result).contains("Ergebnis", "Der Rechenweg");
    assertThat(ENGLISH.matcher(words(page)).results().map(found -> around(words(page), found)))
        .isEmpty();

    List<String> figures = numbers(result);
    assertThat(figures.stream().filter(f -> f.contains(".")).toList()).isSubsetOf(SECTIONS);
    assertThat(figures).anyMatch(figure -> figure.contains(","));
    assertThat(figures.stream().map(figure -> figure.replace(',', '.')).toList())
        .isEqualTo(numbers(result(page(english, calculation))));
  }

  @Test
  void aRefusalIsGerman() {
    Map<String, String> typed = new LinkedHashMap<>(calculation("length").example());
    typed.put("frequencyMhz", "12 Elefanten");
    typed.remove("velocityFactor");
    typed.put("method", "RADAR");
    assertThat(german.get("/calculator/length" + CalculatorPagesTest.query(typed)).body())
        .contains("„12 Elefanten“ ist keine Zahl", "fehlt; eine Zahl eingeben")
        .contains("ist „RADAR“; wählbar sind TRANSMISSION, REFLECTION");

    HttpResponse<String> drift =
        german.post(
            "/calculator/drift",
            Map.of(
                "frequencyMhz", "2800",
                "baselinePhaseDeg", "0",
                "driftLimitDeg", "1",
                "checks", "\ngestern; 0; 1; 2",
                "readings", ""));
    assertThat(drift.statusCode()).isEqualTo(400);
    assertThat(drift.body())
        .contains("Zeile 2: hat 4 Felder; höchstens 2")
        .contains("Zeile 2, Zeit: „gestern“ ist keine Zeit")
        .contains("mindestens eine Zeile");

    assertThat(
            german
                .post("/calculator/gauge", Map.of("readings", "1; Ada; 1; 2\n2; Ben; 4; 4"))
                .body())
        .contains("alle müssen alle Teile messen");
    assertThat(
            german.post("/calculator/pool", Map.of("setSize", "1,5", "frequencies", "1;2")).body())
        .contains("muss eine ganze Zahl sein");
  }

  @Test
  void aDecimalCommaIsReadAndACutHasItsCaution() {
    assertThat(
            german
                .get(
                    "/calculator/length?frequencyMhz=2800&velocityFactor=0,695"
                        + "&method=TRANSMISSION&phaseErrorDeg=-4,8379")
                .body())
        .contains("1,000 mm", "Ein Schnitt lässt sich nicht rückgängig machen", "Klinge")
        .contains("HF-Leistung", "örtlichen Vorschriften");
  }

  private Calculation calculation(String name) {
    return CalculatorPagesTest.calculations()
        .map(service::bean)
        .filter(calculation -> calculation.name().equals(name))
        .findFirst()
        .orElseThrow();
  }

  private static String page(PageClient pages, Calculation calculation) throws IOException {
    HttpResponse<String> answer =
        calculation.posted()
            ? CalculatorPagesTest.send(
                pages, calculation, calculation.example(), CalculatorPagesTest.SWEEP)
            : pages.get(
                "/calculator/"
                    + calculation.name()
                    + CalculatorPagesTest.query(calculation.example()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return answer.body();
  }

  private static String result(String page) {
    return text(page.substring(page.indexOf("<h2>"), page.indexOf("</main>")));
  }

  /** All words of the page but those of its frame and of the example. */
  private static String words(String page) {
    return text(
        page.substring(page.indexOf("<main"), page.indexOf("</main>"))
            .replaceAll("(?s)<textarea.*?</textarea>", "")
            .replace("drift left over", ""));
  }

  private static String text(String html) {
    return HtmlUtils.htmlUnescape(html.replaceAll("<[^>]*>", " ")).replaceAll("\\s+", " ");
  }

  private static List<String> numbers(String text) {
    List<String> numbers = new ArrayList<>();
    Matcher found = NUMBER.matcher(text);
    while (found.find()) {
      numbers.add(found.group());
    }
    return numbers;
  }

  private static String around(String text, java.util.regex.MatchResult found) {
    return text.substring(
        Math.max(0, found.start() - 30), Math.min(text.length(), found.end() + 30));
  }
}
