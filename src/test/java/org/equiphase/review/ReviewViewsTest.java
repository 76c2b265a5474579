package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/** Views of the queue belong to a person, who may show them to others. */
@ExtendWith(RunningService.Extension.class)
class ReviewViewsTest {

  private static final String PATH = "/api/v1/review/views";

  private final RunningService service;
  private final ApiClient qa;
  private final ApiClient second;

  ReviewViewsTest(RunningService service) {
    this.service = service;
    ReviewShop review = new ReviewShop(service);
    qa = review.qa;
    second = review.second;
  }

  /** A view that opens first would meet every other test that opens the queue. */
  @AfterEach
  void deleteAll() {
    for (ApiClient person : List.of(qa, second)) {
      for (JsonNode view : ApiClient.json(person.get(PATH))) {
        person.delete(
            "%s/%d?version=%d"
                .formatted(PATH, view.get("id").asLong(), view.get("version").asInt()));
      }
    }
  }

  private static HttpResponse<String> save(
      ApiClient person, String name, String query, String flags) {
    return person.post(
        PATH, "{\"name\": \"%s\", \"query\": \"%s\"%s}".formatted(name, query, flags));
  }

  private static JsonNode saved(ApiClient person, String name, String query, String flags) {
    HttpResponse<String> answer = save(person, name, query, flags);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  private static HttpResponse<String> change(ApiClient person, JsonNode view, String members) {
    return person.put(
        PATH + "/" + view.get("id").asLong(),
        "{\"version\": %d, %s}".formatted(view.get("version").asInt(), members));
  }

  private static List<String> names(ApiClient person) {
    List<String> names = new ArrayList<>();
    ApiClient.json(person.get(PATH)).forEach(view -> names.add(view.get("name").asString()));
    return names;
  }

  @Test
  void whatIsSharedIsSeenByOthersButChangedByItsOwnerOnly() {
    JsonNode mine = saved(qa, "mine", "kind=SHORT", "");
    JsonNode ours = saved(qa, "ours", "kind=LOSS&kind=VSWR", ", \"shared\": true");
    assertThat(names(qa)).containsExactly("mine", "ours");
    assertThat(names(second)).containsExactly("ours");

    String renamed = "\"name\": \"taken\", \"query\": \"kind=LOSS\"";
    assertThat(change(second, ours, renamed).statusCode()).isEqualTo(404);
    assertThat(second.delete(PATH + "/" + ours.get("id").asLong() + "?version=0").statusCode())
        .isEqualTo(404);
    assertThat(change(qa, mine, renamed).statusCode()).isEqualTo(200);
    assertThat(names(qa)).containsExactly("ours", "taken");
  }

  @Test
  void aChangeFromAnOldVersionIsRefused() {
    JsonNode view = saved(qa, "old", "kind=SHORT", "");
    String members = "\"name\": \"new\", \"query\": \"kind=SHORT\"";
    assertThat(change(qa, view, members).statusCode()).isEqualTo(200);
    assertThat(change(qa, view, members).statusCode()).isEqualTo(409);
    assertThat(qa.delete(PATH + "/" + view.get("id").asLong() + "?version=0").statusCode())
        .isEqualTo(409);
  }

  @Test
  void aNameIsGivenOncePerPerson() {
    saved(qa, "same", "kind=SHORT", "");
    assertThat(save(qa, "same", "kind=LOSS", "").statusCode()).isEqualTo(409);
    saved(second, "same", "kind=LOSS", "");
  }

  @Test
  void theQueryIsKeptInOneForm() {
    assertThat(
            saved(qa, "plain", "search=a%26b&kind=VSWR&kind=LOSS&order=&after=5&bench=7", "")
                .get("query")
                .asString())
        .isEqualTo("kind=LOSS&kind=VSWR&bench=7&search=a%26b");
    assertThat(saved(qa, "everything", "all", "").get("query").asString()).isEqualTo("all");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"kind=NONE", "bench=x", "dueBefore=tomorrow", "colour=red", "set=1&set=2", "a%zz"})
  void whatIsNoFilterIsRefused(String query) {
    HttpResponse<String> answer = save(qa, "bad", query, "");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(ApiClient.json(answer).get("errors").get(0).get("field").asString())
        .isEqualTo("query");
    assertThat(names(qa)).isEmpty();
  }

  @Test
  void oneViewOpensWhereNoFilterIsAskedFor() {
    PageClient page = service.pages(Role.QA);
    assertThat(page.get("/review").statusCode()).isEqualTo(200);
    saved(qa, "one", "kind=SHORT", ", \"opensFirst\": true");
    saved(qa, "two", "kind=LOSS&search=F-1", ", \"opensFirst\": true");
    HttpResponse<String> answer = page.get("/review");
    assertThat(answer.statusCode()).isEqualTo(302);
    assertThat(page.location(answer)).isEqualTo("/review?kind=LOSS&search=F-1");
    assertThat(page.get("/review?all").statusCode()).isEqualTo(200);
    assertThat(service.pages(Role.PLANNER).get("/review").statusCode()).isEqualTo(200);
    assertThat(ApiClient.json(qa.get(PATH)).get(0).get("opensFirst").asBoolean()).isFalse();
  }

  @Test
  void byForms() {
    PageClient page = service.pages(Role.QA);
    page.get("/review?kind=SHORT");
    HttpResponse<String> answer =
        page.post(
            "/review/views", Map.of("name", "by form", "query", "kind=SHORT", "shared", "true"));
    assertThat(page.location(answer)).isEqualTo("/review?kind=SHORT");
    assertThat(page.get("/review?kind=SHORT").body()).contains("by form");
    assertThat(service.pages(Role.PLANNER).get("/review").body()).contains("by form (qa)");

    HttpResponse<String> taken =
        page.post("/review/views", Map.of("name", "by form", "query", "kind=LOSS"));
    assertThat(taken.statusCode()).isEqualTo(409);
    assertThat(taken.body()).contains("You have a view named “by form” already");
    HttpResponse<String> nameless =
        page.post("/review/views", Map.of("name", " ", "query", "kind=LOSS"));
    assertThat(nameless.statusCode()).isEqualTo(400);
    assertThat(nameless.body()).contains("name-error");

    long id = ApiClient.json(qa.get(PATH)).get(0).get("id").asLong();
    Map<String, Object> fields =
        Map.of("name", "renamed", "query", "kind=SHORT", "version", 0, "opensFirst", "true");
    assertThat(page.post("/review/views/" + id, fields).statusCode()).isEqualTo(302);
    assertThat(page.post("/review/views/" + id, fields).statusCode()).isEqualTo(409);
    assertThat(page.reading("de").get("/review/views").body())
        .contains("Meine Ansichten")
        .contains("renamed");
    page.post("/review/views/" + id + "/delete", Map.of("version", 1));
    assertThat(names(qa)).isEmpty();
  }

  @Test
  void sentTwiceIsKeptOnce() {
    String key = UUID.randomUUID().toString();
    String body = "{\"name\": \"twice\", \"query\": \"all\"}";
    HttpResponse<String> first = qa.write("POST", PATH, body, key);
    assertThat(qa.write("POST", PATH, body, key).body()).isEqualTo(first.body());
    assertThat(names(qa)).containsExactly("twice");
  }
}
