package org.equiphase;

import java.util.Collection;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.extension.ParameterContext;
import org.junit.jupiter.api.extension.ParameterResolver;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;

/**
 * The running service, for tests that talk to it as its users do. One instance per test run, with
 * an in-memory database and the demo accounts, serves all tests; they must not mind each other's
 * data.
 *
 * <pre>
 * {@literal @}ExtendWith(RunningService.Extension.class)
 * class OrdersTest {
 *   private final RunningService service;
 *
 *   OrdersTest(RunningService service) { this.service = service; }
 *
 *   {@literal @}Test
 *   void refuses() {
 *     var answer = service.api(Role.TECHNICIAN).post("/api/v1/workorders", "{}");
 *     assertThat(answer.statusCode()).isEqualTo(403);
 *   }
 * }
 * </pre>
 */
public final class RunningService implements AutoCloseable {

  /** The password of all accounts. */
  public static final String PASSWORD = "equiphase-demo";

  private static final Map<String, RunningService> SHARED = new HashMap<>();
  private static final Set<String> FAILED = new HashSet<>();

  private final ConfigurableApplicationContext context;
  private final int port;
  private final Map<Role, String> tokens = new EnumMap<>(Role.class);

  private RunningService(ConfigurableApplicationContext context) {
    this.context = context;
    this.port = context.getEnvironment().getRequiredProperty("local.server.port", Integer.class);
  }

  /** Gives test constructors and methods the shared instance without demo data. */
  public static final class Extension implements ParameterResolver {
    @Override
    public boolean supportsParameter(ParameterContext parameter, ExtensionContext context) {
      return parameter.getParameter().getType() == RunningService.class;
    }

    @Override
    public Object resolveParameter(ParameterContext parameter, ExtensionContext context) {
      return empty();
    }
  }

  /** The shared instance with accounts, and no other data but that of tests. */
  public static synchronized RunningService empty() {
    return shared("equiphase.demo-data=false");
  }

  /** The shared instance with the demo shop's data. */
  public static synchronized RunningService demo() {
    return shared("equiphase.demo-data=true");
  }

  private static RunningService shared(String property) {
    if (FAILED.contains(property)) {
      throw new IllegalStateException("the service did not start, see the first failed test");
    }
    RunningService service = SHARED.get(property);
    if (service == null) {
      FAILED.add(property);
      service = start("equiphase.demo-accounts=true", property);
      FAILED.remove(property);
      SHARED.put(property, service);
    }
    return service;
  }

  /** An instance of its own with a fresh database; the caller closes it. */
  public static RunningService start(String... properties) {
    return startOn(TestDatabase.fresh(), properties);
  }

  /** An instance of its own on the given database; the caller closes it. */
  public static RunningService startOn(String jdbcUrl, String... properties) {
    Map<String, String> settings = new LinkedHashMap<>();
    settings.put("spring.profiles.active", "test");
    settings.put("server.port", "0");
    settings.put("server.address", "127.0.0.1");
    settings.put("spring.datasource.url", jdbcUrl);
    settings.put("equiphase.password.bcrypt-cost", "4");
    for (String property : properties) {
      int equals = property.indexOf('=');
      settings.put(property.substring(0, equals), property.substring(equals + 1));
    }
    String[] arguments =
        settings.entrySet().stream()
            .map(setting -> "--" + setting.getKey() + "=" + setting.getValue())
            .toArray(String[]::new);
    return new RunningService(new SpringApplication(EquiphaseApplication.class).run(arguments));
  }

  /** The address without a slash at its end. */
  public String url() {
    return "http://localhost:" + port;
  }

  public <T> T bean(Class<T> type) {
    return context.getBean(type);
  }

  public <T> Collection<T> beans(Class<T> type) {
    return context.getBeansOfType(type).values();
  }

  /** The API, signed in by a token of the demo account with this role. */
  public synchronized ApiClient api(Role role) {
    String token =
        tokens.computeIfAbsent(
            role, key -> bean(ApiTokens.class).add(username(key), "tests", null).secret());
    return api(token);
  }

  /** The API, signed in by HTTP Basic; slow, since the password is hashed with each call. */
  public ApiClient basic(String username, String password) {
    return ApiClient.basic(url(), username, password);
  }

  /** The API without an account. */
  public ApiClient api() {
    return new ApiClient(url(), "");
  }

  /** The API, signed in by a token. */
  public ApiClient api(String token) {
    return new ApiClient(url(), "Bearer " + token);
  }

  /** The pages, signed in as the demo account with this role; each call is a session of its own. */
  public PageClient pages(Role role) {
    PageClient pages = pages();
    pages.signIn(username(role), PASSWORD);
    return pages;
  }

  /** The pages, not signed in. */
  public PageClient pages() {
    return new PageClient(url());
  }

  /** The demo account with this role. */
  public static String username(Role role) {
    return role.name().toLowerCase(Locale.ROOT);
  }

  @Override
  public void close() {
    context.close();
  }
}
