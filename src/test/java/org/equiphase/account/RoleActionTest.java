package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * Role × action: every action that writes, and every look that is not everybody's, with the roles
 * that may. Each cell is tried over HTTP, with things that do not exist and nothing in the body, so
 * that an allowed call changes nothing: what counts is whether it is refused for the role. What the
 * service offers is compared with the table, so that none can be forgotten.
 */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class RoleActionTest {

  /** Method, path as it is mapped, and who may; ANYONE needs no account, ALL is all four roles. */
  private static final String TABLE =
      """
      POST   /setup                                          ANYONE

      GET    /people                                         ADMINISTRATOR
      POST   /people                                         ADMINISTRATOR
      GET    /people/{username}                              ADMINISTRATOR
      POST   /people/{username}                              ADMINISTRATOR
      POST   /people/{username}/password                     ADMINISTRATOR
      GET    /api/v1/people                                  ADMINISTRATOR
      POST   /api/v1/people                                  ADMINISTRATOR
      GET    /api/v1/people/{username}                       ADMINISTRATOR
      PUT    /api/v1/people/{username}                       ADMINISTRATOR
      POST   /api/v1/people/{username}/password              ADMINISTRATOR

      GET    /audit                                          QA ADMINISTRATOR
      GET    /audit/chain                                    QA ADMINISTRATOR
      GET    /audit/entries.csv                              QA ADMINISTRATOR
      GET    /audit/entries.xlsx                             QA ADMINISTRATOR
      GET    /api/v1/audit                                   QA ADMINISTRATOR
      GET    /api/v1/audit/words                             QA ADMINISTRATOR
      GET    /api/v1/audit/chain                             QA ADMINISTRATOR
      GET    /api/v1/audit/chain/latest                      QA ADMINISTRATOR
      GET    /api/v1/audit/entries.csv                       QA ADMINISTRATOR
      GET    /api/v1/audit/entries.xlsx                      QA ADMINISTRATOR

      GET    /api/v1/operation/backup                        ADMINISTRATOR
      GET    /actuator/prometheus                            ADMINISTRATOR

      POST   /people/{username}/sign-out-everywhere          ADMINISTRATOR
      POST   /people/{username}/provider                     ADMINISTRATOR
      POST   /api/v1/people/{username}/sign-out-everywhere   ADMINISTRATOR
      PUT    /api/v1/people/{username}/provider              ADMINISTRATOR

      POST   /account/sign-out-everywhere                    ALL
      POST   /api/v1/account/sign-out-everywhere             ALL
      POST   /account/password                               ALL
      POST   /account/preferences                            ALL
      POST   /account/tokens                                 ALL
      POST   /account/tokens/{id}/revoke                     ALL
      POST   /api/v1/account/password                        ALL
      POST   /api/v1/account/tokens                          ALL
      DELETE /api/v1/account/tokens/{id}                     ALL

      POST   /catalog/{path}                                 QA PLANNER ADMINISTRATOR
      POST   /catalog/{path}/{id}                            QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/cable-types                     QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/cable-types/{id}                QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/end-standards                   QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/end-standards/{id}              QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/adapters                        QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/adapters/{id}                   QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/line-stretchers                 QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/line-stretchers/{id}            QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/instruments                     QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/instruments/{id}                QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/instruments/{id}/connection-test QA PLANNER ADMINISTRATOR
      POST   /api/v1/catalog/benches                         QA PLANNER ADMINISTRATOR
      PUT    /api/v1/catalog/benches/{id}                    QA PLANNER ADMINISTRATOR

      POST   /workorders                                     PLANNER
      POST   /api/v1/workorders                              PLANNER
      PUT    /api/v1/workorders/{number}                     PLANNER
      POST   /building/{number}/proposals                    PLANNER
      POST   /building/{number}/moves                        PLANNER
      POST   /building/{number}/positions                    PLANNER
      POST   /building/{number}/acceptance                   PLANNER
      POST   /building/{number}/discard                      PLANNER
      POST   /building/{number}/sets/{id}                    PLANNER
      POST   /api/v1/building/{number}/proposals             PLANNER
      POST   /api/v1/building/{number}/moves                 PLANNER
      POST   /api/v1/building/{number}/positions             PLANNER
      POST   /api/v1/building/{number}/acceptance            PLANNER
      POST   /api/v1/building/{number}/sets/{id}             PLANNER

      POST   /traveler/routes                                PLANNER
      POST   /traveler/routes/{id}                           PLANNER
      POST   /traveler/routes/{id}/retirement                PLANNER
      POST   /traveler/workorders/{number}/route             PLANNER
      POST   /traveler/steps                                 TECHNICIAN QA
      POST   /traveler/jobs                                  ALL
      POST   /traveler/jobs/{jobId}/cancel                   ALL
      POST   /api/v1/traveler/routes                         PLANNER
      PUT    /api/v1/traveler/routes/{id}                    PLANNER
      PUT    /api/v1/traveler/workorders/{number}/route      PLANNER
      POST   /traveler/steps/{signOffId}/withdrawal          TECHNICIAN QA
      POST   /api/v1/traveler/steps                          TECHNICIAN QA
      POST   /api/v1/traveler/steps/{signOffId}/withdrawal   TECHNICIAN QA
      POST   /api/v1/traveler/jobs                           ALL
      POST   /api/v1/traveler/jobs/{jobId}/cancel            ALL
      POST   /workorders/{number}/revise                     PLANNER
      POST   /api/v1/workorders/{number}/revisions           PLANNER
      GET    /workorders/imports                             PLANNER
      POST   /workorders/imports                             PLANNER
      GET    /workorders/imports/{id}                        PLANNER
      POST   /workorders/imports/{id}                        PLANNER
      GET    /workorders/imports/example.csv                 PLANNER
      POST   /api/v1/workorders/imports                      PLANNER
      POST   /workorders/{number}/workbook                   TECHNICIAN QA PLANNER
      POST   /workorders/{number}/workbook/{id}              TECHNICIAN QA PLANNER
      POST   /api/v1/workorders/{number}/workbook            TECHNICIAN QA PLANNER
      POST   /api/v1/workorders/{number}/workbook/{id}/store TECHNICIAN QA PLANNER

      POST   /bench/readings                                 TECHNICIAN QA
      POST   /bench/readings/{id}/void                       TECHNICIAN QA
      POST   /bench/files                                    TECHNICIAN QA
      POST   /bench/captures                                 TECHNICIAN QA
      POST   /bench/instructions/{id}                        TECHNICIAN QA
      POST   /bench/temperature                              TECHNICIAN QA
      POST   /bench/reference-checks                         TECHNICIAN QA
      POST   /bench/steps                                    TECHNICIAN QA
      POST   /bench/pauses                                   TECHNICIAN QA
      POST   /bench/pauses/{id}/resume                       TECHNICIAN QA
      POST   /files                                          TECHNICIAN QA
      POST   /files/confirm                                  TECHNICIAN QA
      POST   /files/{id}/discard                             TECHNICIAN QA
      POST   /api/v1/files                                   TECHNICIAN QA
      POST   /api/v1/files/recorded                          TECHNICIAN QA
      POST   /api/v1/files/{id}/confirm                      TECHNICIAN QA
      POST   /api/v1/files/{id}/discard                      TECHNICIAN QA
      POST   /api/v1/readings                                TECHNICIAN QA
      POST   /api/v1/readings/sweeps                         TECHNICIAN QA
      POST   /api/v1/readings/captures                       TECHNICIAN QA
      POST   /api/v1/readings/{id}/void                      TECHNICIAN QA
      POST   /api/v1/reference-checks                        TECHNICIAN QA
      POST   /api/v1/instructions/{id}/sign-off              TECHNICIAN QA

      POST   /review/sets/{id}/hold                          QA
      POST   /review/sets/{id}/release                       QA
      POST   /review/dispositions                            QA
      POST   /review/dispositions/{id}/signatures            QA
      POST   /review/settings                                ADMINISTRATOR
      POST   /review/bulk                                    QA
      POST   /review/views                                   QA
      POST   /review/views/{id}                              QA
      POST   /review/views/{id}/delete                       QA
      POST   /api/v1/review/bulk                             QA
      POST   /api/v1/review/views                            QA
      PUT    /api/v1/review/views/{id}                       QA
      DELETE /api/v1/review/views/{id}                       QA
      POST   /gauge-studies                                  QA
      POST   /gauge-studies/{id}/cancel                      QA
      POST   /api/v1/gauge-studies                           QA
      POST   /api/v1/gauge-studies/{id}/cancel               QA
      POST   /bench/gauge/{id}/values                        TECHNICIAN QA
      POST   /bench/gauge/{id}/captures                      TECHNICIAN QA
      POST   /bench/gauge/{id}/strike                        TECHNICIAN QA
      POST   /api/v1/bench/gauge/{id}/values                 TECHNICIAN QA
      POST   /api/v1/bench/gauge/{id}/captures               TECHNICIAN QA
      POST   /api/v1/bench/gauge/{id}/strike                 TECHNICIAN QA
      POST   /api/v1/review/assemblies/{serial}/hold         QA
      POST   /api/v1/review/assemblies/{serial}/release      QA
      POST   /api/v1/review/dispositions                     QA
      POST   /api/v1/review/dispositions/{id}/signatures     QA
      PUT    /api/v1/review/settings                         ADMINISTRATOR

      POST   /release/sets/{setId}                            QA
      POST   /release/{id}/withdrawal                         QA
      POST   /api/v1/release/sets/{setId}                     QA
      POST   /api/v1/release/{id}/withdrawal                  QA
      POST   /process/limits                                 QA
      POST   /api/v1/process/limits                          QA

      POST   /calculator/{name}                              ALL
      POST   /api/v1/calculations/array-effect               ALL
      POST   /api/v1/calculations/array-effect-planar        ALL
      POST   /api/v1/calculations/array-tolerance            ALL
      POST   /api/v1/calculations/capability                 ALL
      POST   /api/v1/calculations/conformity                 ALL
      POST   /api/v1/calculations/control-chart              ALL
      POST   /api/v1/calculations/cut-plan                   ALL
      POST   /api/v1/calculations/drift                      ALL
      POST   /api/v1/calculations/gauge-study                ALL
      POST   /api/v1/calculations/loss-agreement             ALL
      POST   /api/v1/calculations/reflection                 ALL
      POST   /api/v1/calculations/set-adjustment             ALL
      POST   /api/v1/calculations/set-building               ALL
      POST   /api/v1/calculations/stretcher                  ALL
      POST   /api/v1/calculations/sweep                      ALL
      POST   /api/v1/calculations/temperature-tracking       ALL
      POST   /api/v1/calculations/time-domain                ALL
      POST   /api/v1/calculations/trim                       ALL
      POST   /api/v1/calculations/uncertainty-budget         ALL
      POST   /api/v1/calculations/velocity-factor            ALL
      """;

  /** Read without an account; all other looks need one. */
  private static final Set<String> OPEN_LOOKS =
      Set.of("GET /sign-in", "GET /setup", "GET /actuator/health", "GET /actuator/health/**");

  static final List<Action> ACTIONS =
      TABLE.lines().filter(line -> !line.isBlank()).map(Action::read).toList();

  private final RunningService service;
  private final Map<Role, ApiClient> apis = new EnumMap<>(Role.class);
  private final Map<Role, PageClient> pages = new EnumMap<>(Role.class);

  RoleActionTest(RunningService service) {
    this.service = service;
  }

  /** A row of the table. */
  record Action(String method, String path, Set<Role> roles, boolean open) {

    static Action read(String line) {
      String[] words = line.strip().split(" +");
      Set<String> who = Set.of(Arrays.copyOfRange(words, 2, words.length));
      boolean open = who.contains("ANYONE");
      Set<Role> roles =
          open || who.contains("ALL")
              ? Set.of(Role.values())
              : who.stream().map(Role::valueOf).collect(Collectors.toSet());
      return new Action(words[0], words[1], roles, open);
    }

    String name() {
      return method + " " + path;
    }

    /** An address that fits, of something that does not exist. */
    String address() {
      return path.replaceAll("\\{(id|\\w*Id)}", "999999999").replaceAll("\\{\\w+}", "no-such");
    }

    @Override
    public String toString() {
      return name();
    }
  }

  @BeforeAll
  void signIn() {
    for (Role role : Role.values()) {
      apis.put(role, service.api(role));
      pages.put(role, service.pages(role));
    }
  }

  @ParameterizedTest
  @FieldSource("ACTIONS")
  void onlyTheseRolesMay(Action action) {
    assertThat(rolesLetThrough(action)).isEqualTo(action.roles());
    assertThat(isRefusedWithoutAccount(action)).isEqualTo(!action.open());
  }

  @Test
  void theTableHasEveryWriteAndNothingElse() {
    Set<String> written =
        ACTIONS.stream()
            .filter(action -> !action.method().equals("GET"))
            .map(Action::name)
            .collect(Collectors.toCollection(TreeSet::new));

    assertThat(written)
        .isEqualTo(
            offered()
                .filter(name -> !name.startsWith("GET "))
                .collect(Collectors.toCollection(TreeSet::new)));
    assertThat(offered().toList()).containsAll(ACTIONS.stream().map(Action::name).toList());
  }

  /** Looks that the table does not name are for everyone with an account, and nobody else. */
  @ParameterizedTest
  @MethodSource("otherLooks")
  void everyoneWithAnAccountMayLook(Action look) {
    assertThat(rolesLetThrough(look)).isEqualTo(Set.of(Role.values()));
    assertThat(isRefusedWithoutAccount(look)).isTrue();
  }

  static Stream<Action> otherLooks() {
    Set<String> named = ACTIONS.stream().map(Action::name).collect(Collectors.toSet());
    return offered()
        .filter(name -> name.startsWith("GET "))
        .filter(name -> !named.contains(name) && !OPEN_LOOKS.contains(name))
        .map(name -> Action.read(name + " ALL"));
  }

  /** A path that belongs to no feature has no rule of its own: whoever adds it must say who may. */
  @Test
  void everyPathOfTheServiceBelongsToAFeature() {
    Set<String> known = Set.of("/", "/sign-in", "/setup");
    List<PathPatternRequestMatcher> features =
        AccessRules.FEATURES.stream()
            .flatMap(feature -> Arrays.stream(feature.patterns()))
            .map(PathPatternRequestMatcher.withDefaults()::matcher)
            .toList();

    assertThat(
            offered()
                .map(name -> name.substring(name.indexOf(' ') + 1))
                .filter(path -> !known.contains(path) && !path.startsWith("/actuator/health"))
                .filter(path -> features.stream().noneMatch(rule -> fits(rule, path))))
        .isEmpty();
  }

  private static boolean fits(PathPatternRequestMatcher rule, String path) {
    MockHttpServletRequest request = new MockHttpServletRequest("GET", path);
    request.setServletPath(path);
    return rule.matches(request);
  }

  /** Method and path of all that the service answers, that of its libraries too. */
  private static Stream<String> offered() {
    return RunningService.empty().beans(RequestMappingInfoHandlerMapping.class).stream()
        .flatMap(mappings -> mappings.getHandlerMethods().entrySet().stream())
        .filter(mapping -> !isOfTests(mapping.getValue().getBeanType()))
        .map(Map.Entry::getKey)
        .flatMap(
            info ->
                info.getPatternValues().stream()
                    .filter(path -> !path.equals("/error"))
                    .flatMap(path -> methods(info).map(method -> method + " " + path)))
        .distinct()
        .sorted();
  }

  private static boolean isOfTests(Class<?> controller) {
    return controller.getName().contains(".TestEndpoints");
  }

  private static Stream<RequestMethod> methods(RequestMappingInfo info) {
    Set<RequestMethod> methods = info.getMethodsCondition().getMethods();
    assertThat(methods).as("methods of " + info).isNotEmpty();
    return methods.stream();
  }

  private Set<Role> rolesLetThrough(Action action) {
    return Arrays.stream(Role.values())
        .filter(role -> !isRefused(role, action))
        .collect(Collectors.toSet());
  }

  private boolean isRefused(Role role, Action action) {
    HttpResponse<String> answer =
        isApi(action)
            ? call(Objects.requireNonNull(apis.get(role)), action)
            : visit(Objects.requireNonNull(pages.get(role)), action);
    assertThat(answer.statusCode()).as(answer.body()).isNotEqualTo(401).isLessThan(500);
    if (action.path().endsWith("/account/sign-out-everywhere")) {
      signIn();
    } else {
      assertThat(answer.headers().firstValue("Location").orElse("")).doesNotContain("/sign-in");
    }
    return answer.statusCode() == 403;
  }

  private boolean isRefusedWithoutAccount(Action action) {
    if (isApi(action)) {
      return call(service.api(), action).statusCode() == 401;
    }
    PageClient stranger = service.pages();
    stranger.get("/sign-in");
    HttpResponse<String> answer = visit(stranger, action);
    return answer.statusCode() == 302 && stranger.location(answer).startsWith("/sign-in");
  }

  private static boolean isApi(Action action) {
    return action.path().startsWith("/api/") || action.path().startsWith("/actuator/");
  }

  private static HttpResponse<String> call(ApiClient api, Action action) {
    return api.send(
        api.request(action.address())
            .header("Content-Type", "application/json")
            .header("Idempotency-Key", UUID.randomUUID().toString())
            .method(action.method(), BodyPublishers.ofString("{}")));
  }

  private static HttpResponse<String> visit(PageClient client, Action action) {
    return action.method().equals("GET")
        ? client.get(action.address())
        : client.post(action.address(), Map.of());
  }
}
