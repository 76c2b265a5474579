package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Each cell of the roles table, over HTTP. The addresses lead nowhere below their feature, so that
 * an allowed call changes nothing: what counts is whether it is refused for the role.
 */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class AccessRulesTest {

  private final RunningService service;
  private final Map<Role, ApiClient> apis = new EnumMap<>(Role.class);
  private final Map<Role, PageClient> pages = new EnumMap<>(Role.class);

  AccessRulesTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void signIn() {
    for (Role role : Role.values()) {
      apis.put(role, service.api(role));
      pages.put(role, service.pages(role));
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          GET    | /people           | ADMINISTRATOR
          POST   | /people           | ADMINISTRATOR
          GET    | /audit            | QA ADMINISTRATOR
          POST   | /audit            |
          GET    | /account          | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /account          | TECHNICIAN QA PLANNER ADMINISTRATOR
          GET    | /catalog          | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /catalog          | QA PLANNER ADMINISTRATOR
          PUT    | /catalog          | QA PLANNER ADMINISTRATOR
          PATCH  | /catalog          | QA PLANNER ADMINISTRATOR
          DELETE | /catalog          | QA PLANNER ADMINISTRATOR
          GET    | /workorders       | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /workorders       | PLANNER
          PUT    | /workorders       | PLANNER
          DELETE | /workorders       | PLANNER
          GET    | /bench            | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /bench            | TECHNICIAN QA
          GET    | /files            | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /files            | TECHNICIAN QA
          GET    | /readings         | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /readings         | TECHNICIAN QA
          DELETE | /readings         | TECHNICIAN QA
          GET    | /reference-checks | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /reference-checks | TECHNICIAN QA
          GET    | /instructions     | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /instructions     | TECHNICIAN QA
          POST   | /gauge-studies    | QA
          POST   | /review/settings  | ADMINISTRATOR
          PUT    | /review/settings  | ADMINISTRATOR
          GET    | /review           | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /review           | QA
          GET    | /release          | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /release          | QA
          GET    | /process          | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /process          | QA
          POST   | /calculations     | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /calculator       | TECHNICIAN QA PLANNER ADMINISTRATOR
          GET    | /anything-else    | TECHNICIAN QA PLANNER ADMINISTRATOR
          POST   | /anything-else    |
          PUT    | /anything-else    |
          DELETE | /anything-else    |
          """)
  void onlyTheseRolesMay(String method, String feature, String roles) {
    String path = feature + "/no-such/place";
    Set<Role> allowed =
        roles == null
            ? Set.of()
            : Arrays.stream(roles.split(" ")).map(Role::valueOf).collect(Collectors.toSet());

    assertThat(rolesLetThrough(role -> apiStatus(role, method, "/api/v1" + path)))
        .as("API")
        .isEqualTo(allowed);
    if (method.equals("GET") || method.equals("POST")) {
      assertThat(rolesLetThrough(role -> pageStatus(role, method, path)))
          .as("pages")
          .isEqualTo(allowed);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "/sign-in, 200",
    "/actuator/health, 200",
    "/webjars/htmx.org/dist/htmx.min.js, 200",
    "/assets/app.css, 200",
    "/assets/app.js, 200",
    "/favicon.ico, 404",
    "/actuator, 302",
    "/actuator/env, 302",
    "/, 302",
    "/bench, 302",
    "/error, 302",
    "/api/v1/openapi, 401",
    "/api/v1/workorders, 401"
  })
  void withoutSigningIn(String path, int status) {
    assertThat(service.pages().get(path).statusCode()).isEqualTo(status);
  }

  @Test
  void actuatorShowsNothingButHealth() {
    assertThat(pages(Role.ADMINISTRATOR).get("/actuator").statusCode()).isEqualTo(404);
    assertThat(pages(Role.ADMINISTRATOR).get("/actuator/env").statusCode()).isEqualTo(404);
    assertThat(pages(Role.ADMINISTRATOR).get("/actuator/health").body())
        .doesNotContain("components");
  }

  @Test
  void theApiIsDescribedAtItsAddress() {
    var answer = api(Role.TECHNICIAN).get("/api/v1/openapi");

    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(ApiClient.json(answer).get("paths").has("/api/v1/account/tokens")).isTrue();
  }

  @Test
  void everyAnswerForbidsForeignContent() {
    for (String path : List.of("/sign-in", "/api/v1/account", "/assets/app.css", "/nowhere")) {
      var headers = pages(Role.QA).get(path).headers();
      assertThat(headers.firstValue("Content-Security-Policy").orElse(""))
          .contains("default-src 'self'")
          .doesNotContain("unsafe");
      assertThat(headers.firstValue("X-Content-Type-Options")).contains("nosniff");
      assertThat(headers.firstValue("X-Frame-Options")).contains("DENY");
      assertThat(headers.firstValue("Referrer-Policy")).contains("same-origin");
      assertThat(headers.firstValue("Permissions-Policy")).isPresent();
      assertThat(headers.firstValue("Cross-Origin-Opener-Policy")).contains("same-origin");
      assertThat(headers.firstValue("Cross-Origin-Resource-Policy")).contains("same-origin");
    }
  }

  private static Set<Role> rolesLetThrough(ToIntFunction<Role> status) {
    return Arrays.stream(Role.values())
        .filter(role -> status.applyAsInt(role) != 403)
        .collect(Collectors.toSet());
  }

  private ApiClient api(Role role) {
    return Objects.requireNonNull(apis.get(role));
  }

  private PageClient pages(Role role) {
    return Objects.requireNonNull(pages.get(role));
  }

  private int apiStatus(Role role, String method, String path) {
    HttpRequest.Builder request =
        api(role)
            .request(path)
            .header("Content-Type", "application/json")
            .header("Idempotency-Key", "access-rules")
            .method(method, BodyPublishers.ofString("{}"));
    int status = api(role).send(request).statusCode();
    assertThat(status).isNotEqualTo(401).isLessThan(500);
    return status;
  }

  private int pageStatus(Role role, String method, String path) {
    PageClient client = pages(role);
    int status =
        (method.equals("GET") ? client.get(path) : client.post(path, Map.of())).statusCode();
    assertThat(status).isNotEqualTo(302).isLessThan(500);
    return status;
  }
}
