package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Routes kept by planners, and their steps signed off by scans. */
@ExtendWith(RunningService.Extension.class)
class RouteStepsTest {

  private static final String FIVE_STEPS =
      """
      {"name": "%s", "steps": [
        {"kind": "CUT", "instruction": "With the long jig, both ends", "asksValue": true},
        {"kind": "MEASURE", "asksValue": true},
        {"kind": "TRIM", "asksValue": true},
        {"kind": "REMEASURE"},
        {"kind": "FINAL", "instruction": ""}]}
      """;

  private final RunningService service;
  private final ApiClient planner;
  private final ApiClient technician;

  RouteStepsTest(RunningService service) {
    this.service = service;
    planner = service.api(Role.PLANNER);
    technician = service.api(Role.TECHNICIAN);
  }

  @Test
  void stepsAreSignedOffInOrderOnceAndByWhoeverIsSignedIn() {
    TravelerShop shop = TravelerShop.trimming(service);
    String sheet = shop.serial(2) + "/A/";

    JsonNode cut = ApiClient.json(sign(technician, sheet + "1"));
    assertThat(cut.at("/step/by").asString()).isEqualTo("technician");
    assertThat(cut.get("passedOver")).isEmpty();

    HttpResponse<String> twice = sign(service.api(Role.QA), sheet + "1");
    assertThat(twice.statusCode()).isEqualTo(409);
    assertThat(twice.body()).contains("1 Cut is done already: technician, 20");

    JsonNode passed = ApiClient.json(sign(technician, sheet + "3"));
    assertThat(passed.get("passedOver")).hasSize(1);
    assertThat(passed.at("/passedOver/0/step/kind").asString()).isEqualTo("STRIP");

    // It is measured already, but the cut that its instruction asks for is not signed off.
    HttpResponse<String> early = sign(technician, sheet + "7");
    assertThat(early.statusCode()).isEqualTo(409);
    assertThat(early.body()).contains("7 Terminate end B can't be signed off before 6 Trim or set");

    shop.signOffCut(shop.member(2).get("current"));
    assertThat(sign(technician, sheet + "7").statusCode()).isEqualTo(200);
    HttpResponse<String> beforeReading = sign(technician, sheet + "9");
    assertThat(beforeReading.body()).contains("before 8 Re-measure");
    shop.measure(shop.serial(2), 1000);
    assertThat(sign(technician, sheet + "9").statusCode()).isEqualTo(200);

    JsonNode steps = steps(shop.serial(2));
    assertThat(steps.get(4).at("/proof").asString()).startsWith("reading ");
    assertThat(steps.get(5).at("/proof").asString()).startsWith("instruction ");
    assertThat(steps.get(7).at("/status").asString()).isEqualTo("DONE");
    assertThat(steps.get(9).at("/status").asString()).isEqualTo("OPEN");
    JsonNode log =
        ApiClient.json(
            service
                .api(Role.QA)
                .get("/api/v1/audit?action=STEP_SIGNED_OFF&subjectKey=" + shop.serial(2)));
    assertThat(log.toString()).contains("STEP_SIGNED_OFF", "TERMINATE_B", "passedOver");
  }

  @Test
  void measuringAndTrimmingAreNeverSignedOffByAScan() {
    TravelerShop shop = TravelerShop.trimming(service);
    assertThat(sign(technician, shop.serial(4) + "/A/5").body())
        .contains("5 Measure is signed off by logging the reading");
    assertThat(sign(technician, shop.serial(2) + "/A/6").body())
        .contains("6 Trim or set is signed off with its instruction");
    assertThat(sign(technician, shop.serial(2) + "/A/5").body())
        .contains("5 Measure is done already: technician");
    // In tolerance as it is: nothing to cut, nothing to measure again.
    assertThat(steps(shop.serial(1)).get(5).get("status").asString()).isEqualTo("NOT_NEEDED");
    assertThat(sign(technician, shop.serial(1) + "/A/6").body()).contains("is not needed");
    assertThat(sign(technician, shop.serial(1) + "/A/7").statusCode()).isEqualTo(200);
    // Too short, so on hold for QA.
    HttpResponse<String> held = sign(technician, shop.serial(3) + "/A/1");
    assertThat(held.statusCode()).isEqualTo(409);
    assertThat(held.body()).contains(shop.serial(3) + " is on hold");
  }

  @Test
  void whatIsNoStepOfAPresentSheetIsRefused() {
    TravelerShop shop = TravelerShop.trimming(service);
    HttpResponse<String> old = sign(technician, shop.serial(4) + "/B/1");
    assertThat(old.statusCode()).isEqualTo(409);
    assertThat(old.body()).contains("Old sheet", "revision B", "at revision A");
    assertThat(sign(technician, shop.serial(4) + "/A").statusCode()).isEqualTo(400);
    assertThat(sign(technician, shop.serial(4)).body()).contains("names no step");
    assertThat(sign(technician, "a/b/c/d").statusCode()).isEqualTo(400);
    assertThat(sign(technician, "no-such/A/1").statusCode()).isEqualTo(404);
    assertThat(sign(technician, shop.serial(4) + "/A/999999").body())
        .contains("Step 999999 is not on the order's route Standard");
    assertThat(steps(shop.serial(4)).toString()).doesNotContain("DONE");
  }

  @Test
  void thePageOfStepsNeedsAScannerAndEnterOnly() {
    TravelerShop shop = TravelerShop.trimming(service);
    PageClient pages = service.pages(Role.TECHNICIAN);
    assertThat(pages.get("/traveler/steps").body()).contains("name=\"code\"", "autofocus");
    String code = shop.serial(4) + "/A/2";
    HttpResponse<String> signed = pages.post("/traveler/steps", Map.of("code", code));
    assertThat(signed.statusCode()).isEqualTo(302);
    assertThat(pages.get(pages.location(signed)).body())
        .contains("2 Strip signed off by technician", "Passed over and still open: 1 Cut");
    HttpResponse<String> twice = pages.post("/traveler/steps", Map.of("code", code));
    assertThat(twice.statusCode()).isEqualTo(409);
    assertThat(twice.body()).contains("2 Strip is done already");
    HttpResponse<String> old =
        pages.post("/traveler/steps", Map.of("code", shop.serial(4) + "/C/3"));
    assertThat(old.statusCode()).isEqualTo(409);
    assertThat(old.body()).contains("take it off the floor");
    assertThat(pages.post("/traveler/steps", Map.of("code", "")).statusCode()).isEqualTo(400);
    assertThat(pages.get("/traveler/assemblies/" + shop.serial(4)).body())
        .contains("Traveler", "done", "technician", "Wear eye protection");
  }

  @Test
  void theBenchTakesSheetsAndStepsAndRefusesOldOnes() {
    TravelerShop shop = TravelerShop.trimming(service);
    PageClient pages = service.pages(Role.TECHNICIAN);
    String sheet = shop.serial(4) + "/A";
    HttpResponse<String> bench = pages.get("/bench?serial=" + sheet);
    assertThat(bench.statusCode()).isEqualTo(200);
    assertThat(bench.body()).contains("data-serial=\"" + shop.serial(4) + "\"");

    HttpResponse<String> old = pages.get("/bench?serial=" + shop.serial(4) + "/B");
    assertThat(old.statusCode()).isEqualTo(409);
    assertThat(old.body()).contains("Old sheet").doesNotContain("data-serial", "id=\"reading\"");

    HttpResponse<String> step = pages.get("/bench?serial=" + sheet + "/1");
    assertThat(step.body()).contains("action=\"/bench/steps\"", "1 Cut");
    HttpResponse<String> signed = pages.post("/bench/steps", Map.of("code", sheet + "/1"));
    assertThat(signed.statusCode()).isEqualTo(302);
    assertThat(pages.get(pages.location(signed)).body())
        .contains("1 Cut signed off by technician", "data-serial=\"" + shop.serial(4) + "\"");
    HttpResponse<String> twice = pages.post("/bench/steps", Map.of("code", sheet + "/1"));
    assertThat(twice.statusCode()).isEqualTo(409);
    assertThat(twice.body()).contains("1 Cut is done already");
    assertThat(pages.post("/bench/steps", Map.of("code", shop.serial(4) + "/B/2")).statusCode())
        .isEqualTo(409);
    assertThat(pages.get("/bench?serial=no+serial").statusCode()).isEqualTo(404);
  }

  @Test
  void aWrongSignOffIsWithdrawnByWhoSignedItOrByQa() {
    TravelerShop shop = TravelerShop.trimming(service);
    String sheet = shop.serial(4) + "/A/";
    long cut = ApiClient.json(sign(technician, sheet + "1")).at("/step/signOffId").asLong();
    long strip =
        ApiClient.json(sign(service.api(Role.QA), sheet + "2")).at("/step/signOffId").asLong();

    assertThat(withdraw(technician, cut, " ").statusCode()).isEqualTo(400);
    HttpResponse<String> others = withdraw(technician, strip, "not mine");
    assertThat(others.statusCode()).isEqualTo(409);
    assertThat(others.body()).contains("2 Strip was signed off by qa");
    assertThat(withdraw(technician, Long.MAX_VALUE, "none").statusCode()).isEqualTo(404);

    JsonNode steps = ApiClient.json(withdraw(technician, cut, "wrong cable on the bench"));
    assertThat(steps.at("/0/status").asString()).isEqualTo("OPEN");
    HttpResponse<String> twice = withdraw(technician, cut, "again");
    assertThat(twice.statusCode()).isEqualTo(409);
    assertThat(twice.body()).contains("withdrawn already");

    // Signed off and withdrawn once more, by QA and on the page.
    long again = ApiClient.json(sign(technician, sheet + "1")).at("/step/signOffId").asLong();
    assertThat(again).isNotEqualTo(cut);
    PageClient pages = service.pages(Role.QA);
    String page = "/traveler/assemblies/" + shop.serial(4);
    assertThat(pages.get(page).body())
        .contains("/traveler/steps/" + again + "/withdrawal")
        .contains("1 Cut, signed off by technician: withdrawn by technician")
        .contains("wrong cable on the bench");
    HttpResponse<String> blank =
        pages.post(
            "/traveler/steps/" + again + "/withdrawal",
            Map.of("serial", shop.serial(4), "reason", ""));
    assertThat(blank.statusCode()).isEqualTo(400);
    assertThat(blank.body()).contains("Why it is withdrawn is missing");
    assertThat(
            pages
                .post(
                    "/traveler/steps/" + again + "/withdrawal",
                    Map.of("serial", shop.serial(4), "reason", "cut at the wrong mark"))
                .statusCode())
        .isEqualTo(302);
    assertThat(pages.get(page).body()).contains("cut at the wrong mark");
    assertThat(service.pages(Role.TECHNICIAN).get(page).body())
        .as("a technician is not offered what qa signed")
        .doesNotContain("/traveler/steps/" + strip + "/withdrawal");
    assertThat(service.api(Role.QA).get("/api/v1/audit?action=STEP_SIGN_OFF_WITHDRAWN").body())
        .contains("cut at the wrong mark", "wrong cable on the bench");
    assertThat(sign(technician, sheet + "1").statusCode()).isEqualTo(200);
  }

  @Test
  void aStepToldLaterKeepsItsTime() {
    TravelerShop shop = TravelerShop.trimming(service);
    String body = "{\"code\": \"%s/A/1\", \"doneAt\": \"%s\"}";
    String path = "/api/v1/traveler/steps";
    for (Instant wrong :
        List.of(Instant.now().plusSeconds(3600), Instant.now().minus(Duration.ofDays(9)))) {
      HttpResponse<String> refused = technician.post(path, body.formatted(shop.serial(4), wrong));
      assertThat(refused.statusCode()).isEqualTo(400);
      assertThat(refused.body()).contains("doneAt");
    }
    Instant now = Instant.now().truncatedTo(ChronoUnit.MILLIS);
    assertThat(
            ApiClient.json(technician.post(path, body.formatted(shop.serial(4), now)))
                .at("/step/at")
                .asString())
        .isEqualTo(now.toString());
  }

  @Test
  void aRouteChangedByTwoIsAConflict() {
    String name = "R" + UUID.randomUUID().toString().substring(0, 8);
    JsonNode route =
        ApiClient.json(planner.post("/api/v1/traveler/routes", FIVE_STEPS.formatted(name)));
    String path = "/api/v1/traveler/routes/" + route.get("id").asLong();
    String change = "{\"version\": 0, \"name\": \"%s\", \"steps\": %s}";
    String steps = route.get("steps").toString();
    assertThat(planner.put(path, change.formatted(name + " new", steps)).statusCode())
        .isEqualTo(200);
    HttpResponse<String> second = planner.put(path, change.formatted(name + " other", steps));
    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(second.body()).contains(name + " new was changed by someone else");
    assertThat(ApiClient.json(planner.get(path)).get("name").asString()).isEqualTo(name + " new");
    HttpResponse<String> taken =
        planner.post("/api/v1/traveler/routes", FIVE_STEPS.formatted(name + " new"));
    assertThat(taken.statusCode()).isEqualTo(409);
    assertThat(
            planner
                .put(
                    "/api/v1/traveler/routes/1",
                    "{\"version\": 99, \"name\": \"Standard\", \"steps\": %s}".formatted(steps))
                .statusCode())
        .isEqualTo(409);
  }

  @Test
  void numbersStayWithTheirStepsAndWhatIsSignedStays() {
    TravelerShop shop = TravelerShop.trimming(service);
    String name = "R" + UUID.randomUUID().toString().substring(0, 8);
    JsonNode route =
        ApiClient.json(planner.post("/api/v1/traveler/routes", FIVE_STEPS.formatted(name)));
    long id = route.get("id").asLong();
    long cut = route.at("/steps/0/number").asLong();
    long last = route.at("/steps/4/number").asLong();
    assertThat(cut).isGreaterThan(10);
    String choice = "/api/v1/traveler/workorders/" + shop.orderPath() + "/route";
    String body = "{\"routeId\": %d, \"version\": 0}".formatted(id);
    assertThat(planner.put(choice, body).statusCode()).isEqualTo(200);
    HttpResponse<String> second = planner.put(choice, body);
    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(second.body()).contains("got route " + name);

    // A code of the standard route is none of this one.
    assertThat(sign(technician, shop.serial(4) + "/A/1").statusCode()).isEqualTo(409);
    assertThat(sign(technician, shop.serial(4) + "/A/" + cut).statusCode()).isEqualTo(200);

    // The cut leaves the route, the last step comes first and stays what it was.
    HttpResponse<String> changed =
        planner.put(
            "/api/v1/traveler/routes/" + id,
            """
            {"version": 0, "name": "%s", "steps": [
              {"number": %d, "kind": "FINAL"}, {"number": %d, "kind": "MARK"}]}
            """
                .formatted(name, last, cut));
    JsonNode now = ApiClient.json(changed);
    assertThat(now.at("/steps/0/number").asLong()).isEqualTo(last);
    assertThat(now.at("/steps/1/number").asLong()).isGreaterThan(last);

    JsonNode steps = steps(shop.serial(4));
    assertThat(steps).hasSize(3);
    assertThat(steps.get(2).at("/step/kind").asString()).isEqualTo("CUT");
    assertThat(steps.get(2).at("/step/instruction").asString())
        .isEqualTo("With the long jig, both ends");
    assertThat(steps.get(2).get("onRoute").asBoolean()).isFalse();
    assertThat(sign(technician, shop.serial(4) + "/A/" + cut).statusCode()).isEqualTo(409);
  }

  @Test
  void aFormThatIsNoRouteKeepsWhatWasTyped() {
    PageClient pages = service.pages(Role.PLANNER);
    pages.get("/traveler/routes/new");
    HttpResponse<String> refused =
        pages.post(
            "/traveler/routes",
            Map.of(
                "name", "",
                "place", List.of("1", "2", "", ""),
                "number", List.of("", "", "", ""),
                "kind", List.of("TRIM", "STRIP", "", "REMEASURE"),
                "instruction", List.of("first, then", "x".repeat(201), "", ""),
                "asksValue", List.of("0")));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body())
        .contains("name: ", "Line 1, step: &quot;Trim or set&quot; needs &quot;Measure&quot;")
        .contains("Line 2, the shop&#39;s own words:", "first, then")
        .doesNotContain("Line 4");
    HttpResponse<String> none =
        pages.post("/traveler/routes", Map.of("name", "Empty", "kind", List.of("", "")));
    assertThat(none.statusCode()).isEqualTo(400);
    assertThat(none.body()).contains("give 1 to 15 steps");
    HttpResponse<String> odd =
        pages.post("/traveler/routes", Map.of("name", "Odd", "kind", List.of("FLY")));
    assertThat(odd.statusCode()).isEqualTo(400);
    HttpResponse<String> place =
        pages.post("/traveler/routes", Map.of("name", "Odd", "kind", "STRIP", "place", "first"));
    assertThat(place.statusCode()).isEqualTo(400);
    assertThat(place.body()).contains("place");
  }

  @Test
  void aRetiredRouteIsNotOfferedAndTheStandardOneStays() {
    TravelerShop shop = TravelerShop.trimming(service);
    PageClient pages = service.pages(Role.PLANNER);
    String name = "R" + UUID.randomUUID().toString().substring(0, 8);
    long id =
        ApiClient.json(planner.post("/api/v1/traveler/routes", FIVE_STEPS.formatted(name)))
            .get("id")
            .asLong();
    String page = "/traveler/workorders/" + shop.orderPath();
    assertThat(pages.get(page).body()).contains(name);
    assertThat(
            pages
                .post(
                    "/traveler/routes/" + id + "/retirement", Map.of("version", 0, "retired", true))
                .statusCode())
        .isEqualTo(302);
    assertThat(pages.get(page).body()).doesNotContain(name);
    HttpResponse<String> choice = pages.post(page + "/route", Map.of("routeId", id, "version", 0));
    assertThat(choice.statusCode()).isEqualTo(409);
    assertThat(choice.body()).contains(name + " is retired");
    HttpResponse<String> standard =
        pages.post("/traveler/routes/1/retirement", Map.of("version", 0, "retired", true));
    assertThat(standard.statusCode()).isEqualTo(409);
  }

  private static HttpResponse<String> sign(ApiClient client, String code) {
    return client.post("/api/v1/traveler/steps", "{\"code\": \"%s\"}".formatted(code));
  }

  private static HttpResponse<String> withdraw(ApiClient client, long signOffId, String reason) {
    return client.post(
        "/api/v1/traveler/steps/" + signOffId + "/withdrawal",
        "{\"reason\": \"%s\"}".formatted(reason));
  }

  private JsonNode steps(String serial) {
    return ApiClient.json(technician.get("/api/v1/traveler/assemblies/" + serial + "/steps"));
  }
}
