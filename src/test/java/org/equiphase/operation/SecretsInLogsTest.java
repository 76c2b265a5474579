package org.equiphase.operation;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.ThrowableProxyUtil;
import ch.qos.logback.core.AppenderBase;
import java.net.http.HttpRequest.BodyPublishers;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.slf4j.LoggerFactory;

/** No password and no token reaches the log, not even where everything down to DEBUG is logged. */
@ExtendWith(RunningService.Extension.class)
class SecretsInLogsTest {

  private static final String RIGHT = "right-horse-battery-71";
  private static final String NEXT = "next-horse-battery-72";
  private static final String WRONG = "wrong-horse-battery-73";

  /** Those that see requests and what is in them. */
  private static final List<String> LOGGERS =
      List.of("org.equiphase", "org.springframework", "org.apache.catalina", "org.apache.coyote");

  private final RunningService service;
  private final Queue<String> lines = new ConcurrentLinkedQueue<>();
  private final AppenderBase<ILoggingEvent> appender =
      new AppenderBase<>() {
        @Override
        protected void append(ILoggingEvent event) {
          lines.add(
              event.getFormattedMessage()
                  + event.getMDCPropertyMap()
                  + ThrowableProxyUtil.asString(event.getThrowableProxy()));
        }
      };

  SecretsInLogsTest(RunningService service) {
    this.service = service;
  }

  private static Stream<Logger> loggers() {
    return LOGGERS.stream().map(name -> (Logger) LoggerFactory.getLogger(name));
  }

  @BeforeEach
  void listen() {
    appender.start();
    loggers()
        .forEach(
            logger -> {
              logger.addAppender(appender);
              logger.setAdditive(false);
              logger.setLevel(Level.DEBUG);
            });
  }

  @AfterEach
  void leave() {
    loggers()
        .forEach(
            logger -> {
              logger.setLevel(null);
              logger.setAdditive(true);
              logger.detachAppender(appender);
            });
    appender.stop();
  }

  @Test
  void signInPasswordsAndTokensStayOut() {
    ApiClient administrator = service.api(Role.ADMINISTRATOR);
    var added =
        administrator.post(
            "/api/v1/people",
            """
            {"username": "quiet", "displayName": "Quiet", "password": "%s", "roles": ["TECHNICIAN"]}
            """
                .formatted(RIGHT));
    assertThat(added.statusCode()).as(added.body()).isEqualTo(201);

    PageClient pages = service.pages();
    pages.signIn("quiet", WRONG);
    assertThat(pages.location(pages.signIn("quiet", RIGHT))).doesNotContain("failed");
    assertThat(service.basic("quiet", WRONG).get("/api/v1/account").statusCode()).isEqualTo(401);
    ApiClient basic = service.basic("quiet", RIGHT);
    String token =
        ApiClient.json(basic.post("/api/v1/account/tokens", "{\"name\": \"quiet\"}"))
            .get("secret")
            .asString();
    ApiClient bearer = service.api(token);
    assertThat(bearer.get("/api/v1/account").statusCode()).isEqualTo(200);
    assertThat(service.api(token + "x").get("/api/v1/account").statusCode()).isEqualTo(401);

    // Bodies that can't be read, of which libraries like to quote pieces.
    for (String body :
        List.of(
            "{\"currentPassword\": \"%s\", \"newPassword\": ".formatted(RIGHT),
            "{\"currentPassword\": [\"%s\"]}".formatted(RIGHT))) {
      assertThat(basic.post("/api/v1/account/password", body).statusCode()).isEqualTo(400);
    }
    pages.post("/account/password", Map.of("currentPassword", WRONG, "newPassword", NEXT));
    pages.get("/account?password=" + WRONG.length());
    bearer.send(
        bearer
            .request("/api/v1/readings")
            .header("Content-Type", "text/plain")
            .POST(BodyPublishers.ofString(token)));

    assertThat(lines).as("it listens").anyMatch(line -> line.contains("/api/v1/account"));
    assertThat(lines)
        .noneMatch(line -> Stream.of(RIGHT, NEXT, WRONG, token).anyMatch(line::contains));
  }
}
