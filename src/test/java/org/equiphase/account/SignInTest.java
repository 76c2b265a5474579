package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

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
  void healthNeedsNoAccount() {
    var answer = service.api().get("/actuator/health");

    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.body())
        .isEqualTo("{\"groups\":[\"liveness\",\"readiness\"],\"status\":\"UP\"}");
  }
}
