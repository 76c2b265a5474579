package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;

class FirstAdministratorTest {

  @Test
  void theCodeOnTheConsoleMakesTheFirstAdministratorOnce() {
    PrintStream console = System.out;
    ByteArrayOutputStream printed = new ByteArrayOutputStream();
    System.setOut(new PrintStream(printed, true, StandardCharsets.UTF_8));
    RunningService service;
    try {
      service = RunningService.start();
    } finally {
      System.setOut(console);
    }
    try (service) {
      Matcher code =
          Pattern.compile("administrator: ([A-Z2-9]{20})")
              .matcher(printed.toString(StandardCharsets.UTF_8));
      assertThat(code.find()).isTrue();
      PageClient pages = service.pages();
      assertThat(pages.get("/sign-in").body()).contains("/setup");
      assertThat(pages.get("/setup").statusCode()).isEqualTo(200);

      assertThat(setUp(pages, "WRONG", "a good password").body()).contains("is not the code");
      assertThat(setUp(pages, code.group(1), "too short").body()).contains("at least 12");
      String next = pages.location(setUp(pages, code.group(1), "a good password"));
      assertThat(next).isEqualTo("/sign-in?added");
      assertThat(pages.get(next).body()).contains("The first administrator is added");

      assertThat(pages.get("/setup").statusCode()).isEqualTo(404);
      assertThat(setUp(pages, code.group(1), "a good password").statusCode()).isEqualTo(404);
      pages.signIn("robin", "a good password");
      assertThat(pages.location(pages.get("/"))).isEqualTo("/people");
    }
  }

  @Test
  void demoAccountsStayOnThisMachine() {
    assertThatThrownBy(
            () -> RunningService.start("equiphase.demo-accounts=true", "server.address=0.0.0.0"))
        .rootCause()
        .hasMessageContaining("loopback");
  }

  private static java.net.http.HttpResponse<String> setUp(
      PageClient pages, String code, String password) {
    return pages.post(
        "/setup",
        Map.of("code", code, "username", "robin", "displayName", "Robin", "password", password));
  }
}
