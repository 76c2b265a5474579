package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CatalogPagesTest {
  private static final String SAMPLES = "org.equiphase.catalog.Sample#paths";
  private static final long NOBODY = 999_999_999L;

  private final RunningService service;
  private final PageClient pages;

  CatalogPagesTest(RunningService service) {
    this.service = service;
    this.pages = service.pages(Role.PLANNER);
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void addsFromTheForm(String path) {
    Sample sample = Sample.of(path, service);
    assertThat(pages.get(sample.page() + "/new").statusCode()).isEqualTo(200);

    assertThat(save(sample.page(), sample.form()))
        .contains("Stored: ", "“" + sample.name() + "”", ">" + sample.name() + "</a>");

    String listed = Sample.api(service).get(sample.api()).body();
    assertThat(listed).contains("\"" + sample.name() + "\"");
    sample.jsonFields().stream()
        .filter(field -> field.matches("\"\\w+\":\\d+\\.\\d*[1-9]"))
        .forEach(field -> assertThat(listed).as("typed with a decimal comma").contains(field));
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void showsAndChangesAStoredEntry(String path) {
    Sample sample = Sample.of(path, service);
    String page = sample.page() + "/" + sample.store(service);
    assertThat(pages.get(page).body())
        .contains("value=\"" + sample.name() + "\"", "name=\"version\" value=\"1\"");

    Map<String, Object> form = sample.formWith("version", 1);
    form.put("note", "seen again");
    save(page, form);
    assertThat(pages.get(page).body()).contains("seen again", "name=\"version\" value=\"2\"");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void keepsTypedValuesBesideTheirErrors(String path) {
    Sample sample = Sample.of(path, service);
    pages.get("/catalog");
    Map<String, Object> form = sample.formWith(sample.field(), "12 furlongs");
    form.put("name", "");
    form.put("note", "kept <b>as typed</b>");

    HttpResponse<String> refused = pages.post(sample.page(), form);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body())
        .contains(
            "value=\"12 furlongs\"",
            "id=\"" + sample.field() + "-error\">“12 furlongs” is not a number",
            "id=\"name-error\">is blank",
            "kept &lt;b&gt;as typed&lt;/b&gt;");

    HttpResponse<String> outOfRange =
        pages.post(sample.page(), sample.formWith(sample.field(), sample.badNumber()));
    assertThat(outOfRange.statusCode()).isEqualTo(400);
    assertThat(outOfRange.body())
        .contains("value=\"" + sample.badNumber() + "\"", "is out of range; give ");
    assertThat(Sample.api(service).get(sample.api()).body())
        .doesNotContain("\"" + sample.name() + "\"");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void showsBothValuesOfAStaleEdit(String path) {
    Sample sample = Sample.of(path, service);
    String page = sample.page() + "/" + sample.store(service);
    pages.get(page);
    Map<String, Object> theirs = sample.formWith("version", 1);
    theirs.put("note", "their note");
    save(page, theirs);

    Map<String, Object> mine = sample.formWith("version", 1);
    mine.put("note", "my note");
    HttpResponse<String> conflict = pages.post(page, mine);
    assertThat(conflict.statusCode()).isEqualTo(409);
    assertThat(conflict.body())
        .contains(
            "<div>my note</div>",
            "<div>their note</div>",
            "you worked on version 1, stored is version 2",
            "name=\"version\" value=\"2\"");
    assertThat(conflict.body().split("<div>", -1)).as("only the note differs").hasSize(3);
    assertThat(pages.get(page).body()).contains("their note").doesNotContain("my note");

    mine.put("version", 2);
    save(page, mine);
    assertThat(pages.get(page).body()).contains("my note");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void answersNotFound(String path) {
    Sample sample = Sample.of(path, service);
    String page = sample.page() + "/" + NOBODY;
    assertThat(pages.get(page).statusCode()).isEqualTo(404);
    assertThat(pages.post(page, sample.formWith("version", 1)).statusCode()).isEqualTo(404);
  }

  @Test
  void anUnknownKindIsNotFound() {
    assertThat(pages.get("/catalog/antennas/new").statusCode()).isEqualTo(404);
  }

  @Test
  void aBadRowOfAPastedTableIsNamed() {
    Sample sample = Sample.of("cable-types", service);
    pages.get("/catalog");
    String typed = "10\t1,5\n20\tabc";
    HttpResponse<String> refused =
        pages.post(sample.page(), sample.formWith("temperatureCurve", typed));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body())
        .contains(
            "id=\"temperatureCurve-error\">row 2: “abc” is not a number", ">" + typed + "</t");
  }

  @Test
  void marksDueDatesInWords() {
    LocalDate today = LocalDate.now(ZoneOffset.UTC);
    Sample overdue = Sample.of("instruments", service);
    Sample soon = Sample.of("instruments", service);
    store(overdue, today.minusDays(40));
    store(soon, today.plusDays(20));
    Sample valid = stored(Sample.of("instruments", service));
    String body = pages.get("/catalog").body();
    assertThat(rowOf(body, overdue)).containsPattern("overdue by 4[01] days");
    assertThat(rowOf(body, soon)).containsPattern("due in (19|20) days");
    assertThat(rowOf(body, valid)).doesNotContain("class=\"chip");
  }

  @Test
  void saysWhatCableAndStretcherMean() {
    Sample cable = stored(Sample.of("cable-types", service));
    Sample stretcher = stored(Sample.of("line-stretchers", service));
    String body = pages.get("/catalog").body();
    // 1/(0.695·c) = 4.7995 ns/m and 360·1 GHz/(0.695·c) = 1.7278°/mm, c from the SI Brochure.
    assertThat(rowOf(body, cable)).contains(">4.7995<", ">1.7278<");
    // (861.9 - 301.5)/280 = 2.0014 mm/mm, times 360·1 GHz/c = 1.200831°/mm.
    assertThat(rowOf(body, stretcher)).contains(">2.0014<", ">2.4034<");
  }

  @Test
  void technicianSeesButCanNotSave() {
    PageClient technician = service.pages(Role.TECHNICIAN);
    Sample sample = Sample.of("adapters", service);
    String page = sample.page() + "/" + sample.store(service);
    assertThat(technician.get("/catalog").body()).doesNotContain("/new\"");
    assertThat(technician.get(page).body()).contains(sample.name()).doesNotContain(">Save<");
    assertThat(technician.post(page, sample.formWith("version", 1)).statusCode()).isEqualTo(403);
  }

  /** Sends a form that is accepted, and answers the page to which it leads. */
  private String save(String page, Map<String, Object> form) {
    HttpResponse<String> saved = pages.post(page, form);
    assertThat(saved.statusCode()).as(saved.body()).isIn(302, 303);
    assertThat(pages.location(saved)).matches("/catalog#[a-z-]+");
    return pages.get("/catalog").body();
  }

  private Sample stored(Sample sample) {
    sample.store(service);
    return sample;
  }

  private void store(Sample sample, LocalDate due) {
    HttpResponse<String> answer =
        Sample.api(service).post(sample.api(), sample.jsonWith("calibrationDue", due.toString()));
    assertThat(ApiClient.json(answer).get("calibrationDue").asString()).isEqualTo(due.toString());
  }

  private static String rowOf(String body, Sample sample) {
    int start = body.indexOf(">" + sample.name() + "</a>");
    assertThat(start).isPositive();
    return body.substring(start, body.indexOf("</tr>", start));
  }
}
