package org.equiphase.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.boot.servlet.autoconfigure.MultipartProperties;
import org.springframework.util.unit.DataSize;
import tools.jackson.databind.JsonNode;

/** Error bodies as RFC 9457 describes them, and error pages. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ErrorAnswersTest {

  private static final String BODY = "/api/v1/files/test/body";

  private final ApiClient api;
  private final PageClient pages;

  ErrorAnswersTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
    pages = service.pages(Role.TECHNICIAN);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
          {"role":"QA","items":[],"numbers":[]}                            | frequencyHz            | is missing
          {"frequencyHz":"abc","role":"QA"}                                | frequencyHz            | "abc" is not a number
          {"frequencyHz":"2.8e9","role":"QA"}                              | frequencyHz            | "2.8e9" is not a number
          {"frequencyHz":"NaN","role":"QA"}                                | frequencyHz            | "NaN" is not a number
          {"frequencyHz":1e999,"role":"QA"}                                | frequencyHz            | "1e999" is not a number
          {"frequencyHz":null,"role":"QA"}                                 | frequencyHz            | is missing
          {"frequencyHz":true,"role":"QA"}                                 | frequencyHz            | must be a number
          {"frequencyHz":1,"role":"BOSS"}                                  | role                   | "BOSS" is not one of TECHNICIAN, QA, PLANNER, ADMINISTRATOR
          {"frequencyHz":1,"role":1}                                       | role                   | "1" is not one of TECHNICIAN, QA, PLANNER, ADMINISTRATOR
          {"frequencyHz":1,"items":[{"serial":"A1"}]}                      | items[0].phaseErrorDeg | is missing
          {"frequencyHz":1,"items":[{"serial":"A1","phaseErrorDeg":[]}]}   | items[0].phaseErrorDeg | must be a number
          {"frequencyHz":1,"items":{}}                                     | items                  | must be a list
          {"frequencyHz":1,"numbers":[1,"NaN"]}                            | numbers[1]             | "NaN" is not a number
          {"frequencyHz":1,"numbers":[1,null]}                             | numbers[1]             | must be a number
          {"frequencyHz":1,"optional":"Infinity"}                          | optional               | "Infinity" is not a number
          {"frequencyHz":1,"frequencyHZ":2}                                | frequencyHZ            | is not a known field
          {"frequencyHz":1,"frequencyHz":2}                                | frequencyHz            | is not valid JSON
          {"frequencyHz":1                                                 | frequencyHz            | is not valid JSON
          [1                                                               | body                   | must be an object
          {"items":[{"serial":x}]}                                         | items[0].serial        | is not valid JSON
          {"frequencyHz":NaN}                                              | frequencyHz            | is not valid JSON
          """)
  void namesTheBadFieldOfAJsonBody(String json, String field, String message) {
    JsonNode error = invalid(api.post(BODY, json)).get("errors").get(0);

    assertThat(error.get("field").asString()).isEqualTo(field);
    assertThat(error.get("message").asString()).startsWith(message);
  }

  @Test
  void anEmptyBodyIsAnError() {
    JsonNode problem = problem(api.post(BODY, ""), 400);

    assertThat(problem.get("detail").asString()).contains("body in JSON");
  }

  @ParameterizedTest
  @CsvSource({"NaN", "Infinity", "1e999", "0x1p3", "2d", "'2,8'", "abc"})
  void aQueryNumberIsFinite(String value) {
    JsonNode error =
        invalid(api.get("/api/v1/files/test/number?value=" + value)).get("errors").get(0);

    assertThat(error.get("field").asString()).isEqualTo("value");
    assertThat(error.get("message").asString()).contains("is not a number");
  }

  @Test
  void aMissingParameterIsNamed() {
    JsonNode error = invalid(api.get("/api/v1/files/test/number")).get("errors").get(0);

    assertThat(error.get("field").asString()).isEqualTo("value");
  }

  @Test
  void aMissingPartIsNamed() {
    var answer = api.upload("/api/v1/files/test/parts", new Multipart().field("note", "n"));

    assertThat(invalid(answer).get("errors").get(0).get("field").asString()).isEqualTo("file");
  }

  @Test
  void aTooLargeFileIsRefusedWithTheLimit() {
    Multipart parts =
        new Multipart().field("note", "n").file("file", "a.s2p", new byte[41 * 1024 * 1024]);

    assertThat(problem(api.upload("/api/v1/files/test/parts", parts), 413).get("detail").asString())
        .contains("40 MB");
  }

  @Test
  void theLimitsAreTheConfiguredOnes() {
    MultipartProperties limits = new MultipartProperties();
    limits.setMaxFileSize(DataSize.ofMegabytes(7));
    limits.setMaxRequestSize(DataSize.ofMegabytes(9));

    assertThat(new CommonProblems(limits).tooLarge().detail().toString())
        .contains("up to 7 MB", "up to 9 MB");
  }

  @Test
  void aTooLargeFileOnAPageIsRefusedWithTheLimit() {
    Multipart parts = new Multipart().file("file", "a.s2p", new byte[41 * 1024 * 1024]);
    var answer = pages.upload("/files/test/upload", parts);

    assertThat(answer.statusCode()).isEqualTo(413);
    assertThat(answer.body()).contains("40 MB");
  }

  @Test
  void aBrokenUploadIsRefused() {
    var answer =
        api.send(
            api.request("/api/v1/files/test/parts")
                .header("Content-Type", "multipart/form-data; boundary=x")
                .header("Idempotency-Key", "broken")
                .POST(BodyPublishers.ofString("--x\r\nContent-Disposition: form-data; name=\"f")));

    problem(answer, 400);
  }

  @Test
  void otherErrorsHaveTheSameShape() {
    problem(api.get("/api/v1/no-such-thing"), 404);
    problem(api.get(BODY), 405);
    var text =
        api.request(BODY)
            .header("Content-Type", "text/plain")
            .header("Idempotency-Key", "text")
            .POST(BodyPublishers.ofString("x"));
    problem(api.send(text), 415);
    problem(api.get("/api/v1/people"), 403);
  }

  @Test
  void withoutAnAccountTheProblemSaysHowToSignIn() {
    var answer = RunningService.empty().api().get("/api/v1/workorders");

    assertThat(problem(answer, 401).get("detail").asString()).contains("bearer token");
    assertThat(answer.headers().allValues("WWW-Authenticate"))
        .containsExactly("Basic realm=\"Equiphase\", charset=\"UTF-8\"", "Bearer");
  }

  @Test
  void anUnexpectedErrorShowsOnlyItsId() {
    var answer = api.post("/api/v1/files/test/fails?marker=x", "");

    assertThat(problem(answer, 500).get("detail").asString())
        .matches("Something went wrong on our side.*under [0-9a-f-]{36}\\.");
    assertThat(answer.body()).doesNotContain("secret").doesNotContain("Exception");
  }

  @Test
  void pagesShowErrorsAsPages() {
    var missing = pages.get("/files/test/missing");
    assertThat(missing.statusCode()).isEqualTo(404);
    assertThat(missing.body())
        .contains("There is no assembly &quot;&lt;b&gt;A1&lt;/b&gt;&quot;.")
        .contains("<nav");

    var invalid = pages.get("/files/test/invalid");
    assertThat(invalid.statusCode()).isEqualTo(400);
    assertThat(invalid.body()).contains("frequencyMhz").contains("must be above 0");

    assertThat(pages.get("/nowhere").statusCode()).isEqualTo(404);
    assertThat(pages.get("/people").statusCode()).isEqualTo(403);
  }

  @Test
  void anErrorForHtmxIsATextForThePlaceOfProblems() {
    var answer =
        pages.send(pages.request("/files/test/missing").header("HX-Request", "true").GET());

    assertThat(answer.statusCode()).isEqualTo(404);
    assertThat(answer.headers().firstValue("HX-Retarget")).contains("#problems");
    assertThat(answer.body().strip()).startsWith("<div class=\"alert bad\">").endsWith("</div>");
  }

  private static JsonNode invalid(HttpResponse<String> answer) {
    JsonNode problem = problem(answer, 400);
    assertThat(problem.get("title").asString()).isEqualTo("Invalid input");
    return problem;
  }

  private static JsonNode problem(HttpResponse<String> answer, int status) {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/problem+json");
    JsonNode problem = ApiClient.json(answer);
    assertThat(problem.get("status").asInt()).isEqualTo(status);
    assertThat(problem.get("title").asString()).isNotBlank();
    assertThat(problem.get("detail").asString()).isNotBlank();
    return problem;
  }
}
