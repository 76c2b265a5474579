package org.equiphase.release;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.ReviewShop;
import tools.jackson.databind.JsonNode;

/** A small shop with one matched set, and what QA sends to release it. */
final class ReleaseShop {

  /** Lengths within 0.4 mm, which at the shop's frequency is 1.94° of spread for ±3°. */
  static final List<Double> LENGTHS_MM = List.of(1000.0, 1000.2, 1000.4, 1000.1);

  final ReviewShop review;
  final SmallShop shop;
  final ApiClient qa;
  final long setId;

  private ReleaseShop(RunningService service, String extra) {
    review = new ReviewShop(service);
    shop = review.shop;
    qa = shop.qa;
    setId = shop.order(LENGTHS_MM.size(), "SET", "ABSOLUTE", "", extra);
  }

  /** None of the members is read. */
  static ReleaseShop unread(RunningService service) {
    return new ReleaseShop(service, ReviewShop.SIMPLE);
  }

  /** All of them are in tolerance. */
  static ReleaseShop matched(RunningService service) {
    return matched(service, ReviewShop.SIMPLE);
  }

  static ReleaseShop matched(RunningService service, String extra) {
    ReleaseShop shop = new ReleaseShop(service, extra);
    shop.measureAll();
    return shop;
  }

  void measureAll() {
    for (int i = 0; i < LENGTHS_MM.size(); i++) {
      shop.measure(shop.serial(i + 1), LENGTHS_MM.get(i));
    }
  }

  JsonNode standing() {
    return ApiClient.json(qa.get("/api/v1/release/sets/" + setId));
  }

  List<String> hindrances() {
    return standing().get("hindrances").valueStream().map(h -> h.get("kind").asString()).toList();
  }

  HttpResponse<String> tryRelease() {
    return tryRelease(RunningService.PASSWORD);
  }

  HttpResponse<String> tryRelease(String password) {
    return qa.post(
        "/api/v1/release/sets/" + setId,
        "{\"password\": \"%s\", \"remark\": \"packed by position\"}".formatted(password));
  }

  JsonNode release() {
    HttpResponse<String> answer = tryRelease();
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  HttpResponse<String> withdraw(long id, String reason) {
    return qa.post(
        "/api/v1/release/" + id + "/withdrawal",
        "{\"password\": \"%s\", \"reason\": \"%s\"}".formatted(RunningService.PASSWORD, reason));
  }

  JsonNode check(long id) {
    return ApiClient.json(qa.get("/api/v1/release/" + id + "/check"));
  }

  /** Sets the calibration of the shop's analyzer due. */
  void calibrationDue(String day) {
    String name = shop.orderNumber() + " analyzer (invented)";
    for (JsonNode instrument : ApiClient.json(shop.planner.get("/api/v1/catalog/instruments"))) {
      if (instrument.get("name").asString().equals(name)) {
        HttpResponse<String> answer =
            shop.planner.put(
                "/api/v1/catalog/instruments/" + instrument.get("id").asLong(),
                """
                {"version": %d, "name": "%s", "serialNumber": "1",
                 "phaseStandardUncertaintyDeg": 0.2, "calibrationDue": "%s", "note": ""}
                """
                    .formatted(instrument.get("version").asInt(), name, day));
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        return;
      }
    }
    throw new AssertionError("no " + name);
  }

  static String username() {
    return RunningService.username(Role.QA);
  }
}
