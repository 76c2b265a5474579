package org.equiphase.account;

import java.net.InetAddress;
import java.util.Locale;
import java.util.Set;
import org.equiphase.web.Sentence;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.boot.web.server.WebServer;
import org.springframework.boot.web.server.autoconfigure.ServerProperties;
import org.springframework.boot.web.server.context.WebServerApplicationContext;
import org.springframework.context.event.EventListener;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/**
 * One account per role with a password that everyone knows, a second person of QA for what takes
 * two signatures, and a second technician; on loopback only.
 */
@Component
@ConditionalOnProperty("equiphase.demo-accounts")
@Order(Ordered.HIGHEST_PRECEDENCE)
public class DemoAccounts implements ApplicationRunner {

  /** Of each demo account. */
  public static final String PASSWORD = "equiphase-demo";

  static final String SECOND_OF_QA = "qa2";
  static final String SECOND_TECHNICIAN = "technician2";

  private final Accounts accounts;

  DemoAccounts(Accounts accounts, ServerProperties server) {
    InetAddress address = server.getAddress();
    if (address == null || !address.isLoopbackAddress()) {
      throw new IllegalStateException(
          "equiphase.demo-accounts has passwords that everyone knows: it needs server.address"
              + " to be a loopback address such as 127.0.0.1");
    }
    this.accounts = accounts;
  }

  @Override
  public void run(ApplicationArguments arguments) {
    if (!accounts.isEmpty()) {
      return;
    }
    for (Role role : Role.values()) {
      String username = role.name().toLowerCase(Locale.ROOT);
      accounts.addForDemo(
          new NewPerson(username, "Demo " + Sentence.term(role), PASSWORD, Set.of(role)));
    }
    accounts.addForDemo(new NewPerson(SECOND_OF_QA, "Demo QA, second", PASSWORD, Set.of(Role.QA)));
    accounts.addForDemo(
        new NewPerson(
            SECOND_TECHNICIAN, "Demo Technician, second", PASSWORD, Set.of(Role.TECHNICIAN)));
  }

  @EventListener
  void print(ApplicationReadyEvent ready) {
    if (!(ready.getApplicationContext() instanceof WebServerApplicationContext context)) {
      return;
    }
    WebServer server = context.getWebServer();
    if (server != null) {
      System.out.printf(
          """

          The demo shop is open at http://localhost:%d
          Sign in as technician, technician2, qa, qa2, planner or administrator;
          the password of each is %s

          """,
          server.getPort(), PASSWORD);
    }
  }
}
