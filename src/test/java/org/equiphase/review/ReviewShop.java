package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.Locale;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import tools.jackson.databind.JsonNode;

/** A small shop with two persons of QA, and what they send. */
public final class ReviewShop {

  public static final String SECOND = "qa2";
  public static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";

  public final SmallShop shop;
  public final ApiClient qa;
  public final ApiClient second;

  public ReviewShop(RunningService service) {
    shop = new SmallShop(service);
    qa = service.basic(RunningService.username(Role.QA), RunningService.PASSWORD);
    second = service.basic(SECOND, RunningService.PASSWORD);
  }

  /** Sends a decision on the assembly's last reading; {@code terms} are further members. */
  public HttpResponse<String> decide(String serial, String kind, String terms) {
    return decide(serial, kind, terms, RunningService.PASSWORD);
  }

  public HttpResponse<String> decide(String serial, String kind, String terms, String password) {
    return qa.post("/api/v1/review/dispositions", body(serial, kind, terms, password));
  }

  public String body(String serial, String kind, String terms, String password) {
    return """
        {"password": "%s", "disposition": {"kind": "%s", "serial": "%s", "readingId": %s,
         "reasonCode": "OTHER", "text": "as found at final inspection"%s}}
        """
        .formatted(
            password, kind, serial, latestReading(serial), terms.isEmpty() ? "" : ", " + terms);
  }

  /** The last valid reading that a person sees; "null" without one. */
  public String latestReading(String serial) {
    for (JsonNode reading : ApiClient.json(qa.get("/api/v1/readings?serial=" + serial))) {
      if (reading.get("voided").isNull()) {
        return reading.get("id").asString();
      }
    }
    return "null";
  }

  public JsonNode decided(String serial, String kind, String terms) {
    HttpResponse<String> answer = decide(serial, kind, terms);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  public HttpResponse<String> countersign(ApiClient person, long id, boolean agrees) {
    return person.post(
        "/api/v1/review/dispositions/" + id + "/signatures",
        String.format(
            Locale.ROOT,
            "{\"agrees\": %s, \"text\": \"looked at it too\", \"password\": \"%s\"}",
            agrees,
            RunningService.PASSWORD));
  }

  public JsonNode disposition(long id) {
    return ApiClient.json(qa.get("/api/v1/review/dispositions/" + id));
  }
}
