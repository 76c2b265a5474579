package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import java.util.Set;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.jdbc.core.simple.JdbcClient;

@ExtendWith(RunningService.Extension.class)
class SignInTest {

  private final RunningService service;

  SignInTest(RunningService service) {
    this.service = service;
  }

  @ParameterizedTest
  @CsvSource({
    "TECHNICIAN, /bench",
    "QA, /workorders",
    "PLANNER, /workorders",
    "ADMINISTRATOR, /people"
  })
  void eachRoleStartsAtItsWork(Role role, String start) {
    PageClient pages = service.pages();
    var signedIn = pages.signIn(RunningService.username(role), RunningService.PASSWORD);

    assertThat(signedIn.statusCode()).isEqualTo(302);
    assertThat(pages.location(signedIn)).isEqualTo("/");
    assertThat(pages.location(pages.get("/"))).isEqualTo(start);
  }

  @Test
  void aWrongPasswordSignsNobodyIn() {
    PageClient pages = service.pages();
    var answer = pages.signIn("technician", "not the password");

    assertThat(pages.location(answer)).isEqualTo("/sign-in?failed");
    assertThat(pages.get("/sign-in?failed").body()).contains("do not go together");
    assertThat(pages.location(pages.get("/"))).isEqualTo("/sign-in");
  }

  @Test
  void aFormWithoutItsTokenIsRefused() {
    PageClient pages = service.pages(Role.TECHNICIAN);
    var answer = pages.postBare("/sign-out", Map.of());

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(answer.body()).contains("Go back, load the page again");
    assertThat(pages.location(pages.get("/"))).isEqualTo("/bench");
  }

  @Test
  void signingOutEndsTheSession() {
    PageClient pages = service.pages(Role.TECHNICIAN);
    pages.get("/account");
    var answer = pages.post("/sign-out", Map.of());

    assertThat(pages.location(answer)).isEqualTo("/sign-in?out");
    assertThat(pages.location(pages.get("/"))).isEqualTo("/sign-in");
  }

  @Test
  void signingOutEverywhereEndsAllSessions() {
    String name = "everywhere" + System.nanoTime();
    service
        .bean(Accounts.class)
        .add(new NewPerson(name, "Someone", "correct horse battery", Set.of(Role.QA)));
    PageClient here = service.pages();
    PageClient there = service.pages();
    here.signIn(name, "correct horse battery");
    there.signIn(name, "correct horse battery");
    String page = here.get("/account").body();
    assertThat(page.split("class=\"chip note\"", -1)).hasSize(2);

    assertThat(here.location(here.post("/account/sign-out-everywhere", Map.of())))
        .isEqualTo("/sign-in?out");
    assertThat(here.location(here.get("/account"))).isEqualTo("/sign-in");
    assertThat(there.location(there.get("/account"))).isEqualTo("/sign-in");
  }

  /** OWASP ASVS 4.0.3, 3.3.2 at level 2: after 30 minutes without use, or 12 hours. */
  @Test
  void aSessionEndsUnusedAndAtTheLatestAfterItsLongestTime() {
    String name = "longest" + System.nanoTime();
    service
        .bean(Accounts.class)
        .add(new NewPerson(name, "Someone", "correct horse battery", Set.of(Role.QA)));
    PageClient pages = service.pages();
    pages.signIn(name, "correct horse battery");
    JdbcClient jdbc = service.bean(JdbcClient.class);
    assertThat(
            jdbc.sql("select max_inactive_interval from spring_session where principal_name = ?")
                .param(name)
                .query(Long.class)
                .single())
        .isEqualTo(30 * 60);

    age(jdbc, name, 11);
    assertThat(pages.get("/account").statusCode()).isEqualTo(200);
    age(jdbc, name, 2);
    assertThat(pages.location(pages.get("/account"))).isEqualTo("/sign-in");
  }

  private static void age(JdbcClient jdbc, String name, int hours) {
    jdbc.sql("update spring_session set creation_time = creation_time - ? where principal_name = ?")
        .params(hours * 3_600_000L, name)
        .update();
  }

  @Test
  void healthNeedsNoAccount() {
    var answer = service.api().get("/actuator/health");

    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.body())
        .isEqualTo("{\"groups\":[\"liveness\",\"readiness\"],\"status\":\"UP\"}");
  }
}
