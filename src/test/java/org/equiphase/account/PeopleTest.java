package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.audit.AuditLog;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@ExtendWith(RunningService.Extension.class)
class PeopleTest {

  private static final String PASSWORD = "correct horse battery";

  private final RunningService service;
  private final PageClient pages;

  PeopleTest(RunningService service) {
    this.service = service;
    pages = service.pages(Role.ADMINISTRATOR);
  }

  @Test
  void anAddedPersonSignsInWithTheirRoles() {
    add("robin", "PLANNER", "QA");

    assertThat(pages.get("/people").body()).contains("robin");
    PageClient robin = service.pages();
    assertThat(robin.location(robin.signIn("Robin ", PASSWORD))).isEqualTo("/");
    assertThat(robin.get("/audit").statusCode()).isEqualTo(200);
    assertThat(robin.get("/people").statusCode()).isEqualTo(403);
    assertThat(actions("robin")).contains("PERSON_ADDED", "SIGNED_IN");
  }

  @ParameterizedTest
  @CsvSource({
    "'',    Name, correct horse battery, TECHNICIAN, a letter and have 2 to 50",
    "Robin, Name, correct horse battery, TECHNICIAN, a letter and have 2 to 50",
    "kim,   '',   correct horse battery, TECHNICIAN, 1 to 100 characters",
    "kim,   Name, elevenchars,           TECHNICIAN, at least 12 characters",
    "kim,   Name, correct horse battery, '',         at least one role",
    "kim,   Name, correct horse battery, BOSS,       is not one of TECHNICIAN",
    "qa,    Name, correct horse battery, TECHNICIAN, is taken"
  })
  void badFieldsAreNamed(
      String username, String name, String password, String role, String message) {
    var answer =
        pages.post(
            "/people",
            Map.of(
                "username", username,
                "displayName", name,
                "password", password,
                "roles", role.isEmpty() ? List.of() : role));

    assertThat(answer.statusCode()).isIn(400, 409);
    assertThat(answer.body()).contains(message);
  }

  @Test
  void aPasswordLongerThanTheHashTakesIsRefused() {
    String json =
        "{\"username\":\"kim\",\"displayName\":\"Kim\",\"roles\":[\"QA\"],\"password\":\"%s\"}"
            .formatted("ö".repeat(37));

    var answer = service.api(Role.ADMINISTRATOR).post("/api/v1/people", json);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("at most 72 bytes");
  }

  @Test
  void aChangeEndsSessionsAndDisablingStopsAllWaysIn() {
    add("sascha", "TECHNICIAN");
    PageClient sascha = service.pages();
    sascha.signIn("sascha", PASSWORD);
    assertThat(sascha.get("/account").statusCode()).isEqualTo(200);

    var changed =
        pages.post(
            "/people/sascha",
            Map.of("displayName", "Sascha", "roles", List.of("QA"), "version", "1"));
    assertThat(changed.statusCode()).isEqualTo(302);
    assertThat(sascha.location(sascha.get("/account"))).isEqualTo("/sign-in");
    assertThat(sascha.location(sascha.signIn("sascha", PASSWORD))).isEqualTo("/sign-in?failed");
    assertThat(actions("sascha")).contains("PERSON_CHANGED", "SIGN_IN_FAILED");
  }

  @Test
  void aChangeEndsSessionsHoweverTheNameIsSpelt() {
    add("robyn", "TECHNICIAN");
    PageClient robyn = service.pages();
    robyn.signIn("robyn", PASSWORD);
    pages.post("/people/ROBYN/password", Map.of("password", "another password"));
    assertThat(robyn.location(robyn.get("/account"))).isEqualTo("/sign-in");

    robyn.signIn("robyn", "another password");
    long version = service.bean(Accounts.class).person("robyn").version();
    pages.post(
        "/people/ROBYN",
        Map.of("displayName", "R", "roles", "QA", "enabled", "true", "version", version));
    assertThat(robyn.location(robyn.get("/account"))).isEqualTo("/sign-in");
  }

  @Test
  void theSecondOfTwoChangesIsAConflict() {
    add("toni", "TECHNICIAN");
    ApiClient api = service.api(Role.ADMINISTRATOR);
    String change = "{\"displayName\":\"%s\",\"roles\":[\"QA\"],\"enabled\":true,\"version\":1}";

    assertThat(api.put("/api/v1/people/toni", change.formatted("One")).statusCode()).isEqualTo(200);
    var second = api.put("/api/v1/people/toni", change.formatted("Two"));
    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(api.get("/api/v1/people/toni").body()).contains("\"displayName\":\"One\"");
  }

  @Test
  void theLastAdministratorStays() {
    long version = service.bean(Accounts.class).person("administrator").version();
    var answer =
        pages.post(
            "/people/administrator",
            Map.of("displayName", "A", "roles", "QA", "enabled", "true", "version", version));

    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(answer.body()).contains("Nobody would be left");
    assertThat(pages.get("/people").statusCode()).isEqualTo(200);
  }

  @Test
  void passwordsAreChangedByTheirOwnersAndResetByTheAdministrator() {
    add("uli", "TECHNICIAN");
    PageClient uli = service.pages();
    uli.signIn("uli", PASSWORD);
    assertThat(password(uli, "wrong", "another password", "another password").statusCode())
        .isEqualTo(400);
    assertThat(password(uli, PASSWORD, "another password", "an other password").body())
        .contains("differs from the new password");
    assertThat(uli.location(password(uli, PASSWORD, "another password", "another password")))
        .isEqualTo("/sign-in?changed");
    assertThat(uli.location(uli.signIn("uli", "another password"))).isEqualTo("/");

    pages.post("/people/uli/password", Map.of("password", "a third password"));
    assertThat(uli.location(uli.get("/account"))).isEqualTo("/sign-in");
    assertThat(uli.location(uli.signIn("uli", "a third password"))).startsWith("/account");
  }

  @Test
  void basicSignsInWithTheRightPasswordOnly() {
    assertThat(service.basic("qa", RunningService.PASSWORD).get("/api/v1/account").body())
        .contains("\"username\":\"qa\"")
        .doesNotContain("bcrypt");
    assertThat(service.basic("qa", "wrong").get("/api/v1/account").statusCode()).isEqualTo(401);
    assertThat(service.basic("nobody", "wrong").get("/api/v1/account").statusCode()).isEqualTo(401);
    assertThat(actions("nobody")).containsExactly("SIGN_IN_FAILED");
  }

  @Test
  void anUnknownPersonIsNotFound() {
    assertThat(pages.get("/people/nobody").statusCode()).isEqualTo(404);
  }

  private static java.net.http.HttpResponse<String> password(
      PageClient client, String present, String wanted, String repeated) {
    return client.post(
        "/account/password",
        Map.of("presentPassword", present, "newPassword", wanted, "repeatedPassword", repeated));
  }

  private void add(String username, String... roles) {
    var answer =
        pages.post(
            "/people",
            Map.of(
                "username",
                username,
                "displayName",
                "Someone",
                "password",
                PASSWORD,
                "roles",
                List.of(roles)));
    assertThat(answer.statusCode()).isEqualTo(302);
  }

  private List<String> actions(String username) {
    return service.bean(AuditLog.class).entries(null, "person", username, null, 100).stream()
        .map(entry -> entry.action())
        .toList();
  }
}
