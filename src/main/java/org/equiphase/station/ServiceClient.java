package org.equiphase.station;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.ConnectException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.net.http.HttpTimeoutException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Talks to the service; tells a refusal of a file from an answer that may be another next time. */
final class ServiceClient {

  private static final Duration CONNECT = Duration.ofSeconds(10);
  private static final Duration ANSWER = Duration.ofSeconds(60);
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** Fields of the request that are the station's and not the file's. */
  private static final Set<String> STATION_FIELDS = Set.of("benchId", "temperatureC");

  private final HttpClient http =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).connectTimeout(CONNECT).build();
  private final URI service;
  private final Path tokenFile;

  ServiceClient(URI service, Path tokenFile) {
    this.service = service;
    this.tokenFile = tokenFile;
  }

  /**
   * The number of a bench.
   *
   * @param bench its name, whatever its case, or its number
   */
  long bench(String bench) throws TroubleException, InterruptedException {
    HttpResponse<String> answer = send(request("/api/v1/catalog/benches").GET());
    JsonNode benches = json(answer);
    if (answer.statusCode() != 200 || !benches.isArray()) {
      throw trouble(answer, benches);
    }
    List<String> names = new ArrayList<>();
    for (JsonNode known : benches) {
      String name = known.path("name").asString("");
      if (name.equalsIgnoreCase(bench)) {
        return known.path("id").asLong();
      }
      names.add("\"" + name + "\"");
    }
    for (JsonNode known : benches) {
      if (known.path("id").asString("").equals(bench)) {
        return known.path("id").asLong();
      }
    }
    throw TroubleException.lasting(
        "there is no bench \"" + bench + "\"; there are " + String.join(", ", names));
  }

  /** Sends a file; the same file with the same fields has the same idempotency key. */
  Answer post(OutgoingFile file, long benchId, @Nullable Double temperatureC)
      throws TroubleException, InterruptedException {
    Map<String, String> fields = new LinkedHashMap<>();
    fields.put("benchId", "" + benchId);
    fields.put("takenAt", file.takenAt().toString());
    if (temperatureC != null) {
      fields.put("temperatureC", "" + temperatureC);
    }
    String key = file.key(List.copyOf(fields.values()));
    String boundary = "station-" + key;
    HttpResponse<String> answer =
        send(
            request("/api/v1/files/recorded")
                .header("Content-Type", "multipart/form-data; boundary=" + boundary)
                .header("Idempotency-Key", key)
                .POST(BodyPublishers.ofByteArray(body(boundary, fields, file))));
    return read(answer);
  }

  private static Answer read(HttpResponse<String> answer) throws TroubleException {
    JsonNode json = json(answer);
    switch (answer.statusCode()) {
      case 200, 201, 202 -> {
        String note = note(json);
        if (note != null) {
          return new Answer.Taken(note);
        }
      }
      case 413 -> {
        return new Answer.Refused(detail(json, "It is too large for the service."));
      }
      case 400, 415, 422 -> {
        if (json.has("detail") && !isOfStation(json)) {
          return new Answer.Refused(detail(json, ""));
        }
      }
      case 409, 500 -> {
        return new Answer.Later(detail(json, "The service answered " + answer.statusCode() + "."));
      }
      default -> {
        // Nothing that this file alone met with.
      }
    }
    throw trouble(answer, json);
  }

  /** What became of the file; null where this is no answer of the service. */
  private static @Nullable String note(JsonNode json) {
    String reading =
        "reading "
            + json.path("readingId").asString("?")
            + " of "
            + json.path("serial").asString("?");
    return switch (json.path("outcome").asString("")) {
      case "RECORDED" -> "recorded as " + reading;
      case "RECORDED_BEFORE" -> "recorded before as " + reading;
      case "WAITING" ->
          "waits on the Files page for a person: " + json.path("problem").asString("");
      default -> null;
    };
  }

  private static boolean isOfStation(JsonNode problem) {
    JsonNode errors = problem.path("errors");
    if (errors.isEmpty()) {
      return false;
    }
    for (JsonNode error : errors) {
      if (!STATION_FIELDS.contains(error.path("field").asString(""))) {
        return false;
      }
    }
    return true;
  }

  private static TroubleException trouble(HttpResponse<String> answer, JsonNode json) {
    int status = answer.statusCode();
    String said = detail(json, "");
    return switch (status) {
      case 401 ->
          TroubleException.lasting(
              "the service does not take the token; put a valid one into the token file");
      case 403 ->
          TroubleException.lasting(
              "the token's owner may not record readings; take one of a technician or of QA");
      case 400, 404 ->
          TroubleException.lasting(
              said.isEmpty()
                  ? "the service's address leads to something else (answer " + status + ")"
                  : said);
      case 408, 425, 429, 502, 503, 504 ->
          TroubleException.passing(
              "the service is busy or starting (answer "
                  + status
                  + ")"
                  + (said.isEmpty() ? "" : ": " + said));
      default ->
          TroubleException.lasting(
              "the answer (" + status + ") is not one of the service; check its address");
    };
  }

  private static String detail(JsonNode json, String otherwise) {
    return json.path("detail").asString(otherwise);
  }

  private static JsonNode json(HttpResponse<String> answer) {
    try {
      return JSON.readTree(answer.body());
    } catch (JacksonException e) {
      return JSON.missingNode();
    }
  }

  private HttpRequest.Builder request(String path) throws TroubleException {
    String token;
    try {
      token = Files.readString(tokenFile).strip();
    } catch (IOException e) {
      throw TroubleException.lasting("the token file " + tokenFile + " can't be read: " + e);
    }
    try {
      return HttpRequest.newBuilder(URI.create(service + path))
          .timeout(ANSWER)
          .header("Accept", "application/json, application/problem+json")
          .header("Authorization", "Bearer " + token);
    } catch (IllegalArgumentException e) {
      throw TroubleException.lasting("the token file " + tokenFile + " holds no token");
    }
  }

  private HttpResponse<String> send(HttpRequest.Builder request)
      throws TroubleException, InterruptedException {
    try {
      return http.send(request.build(), BodyHandlers.ofString());
    } catch (HttpTimeoutException e) {
      throw TroubleException.passing("no answer in time from " + service);
    } catch (ConnectException e) {
      throw TroubleException.passing("no connection to " + service);
    } catch (IOException e) {
      throw TroubleException.passing("the connection to " + service + " broke: " + e.getMessage());
    }
  }

  private static byte[] body(String boundary, Map<String, String> fields, OutgoingFile file) {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    fields.forEach(
        (name, value) ->
            part(body, boundary, "name=\"" + name + "\"", value.getBytes(StandardCharsets.UTF_8)));
    String name = file.name().replaceAll("[\\p{Cntrl}\"\\\\]", "_");
    part(body, boundary, "name=\"file\"; filename=\"" + name + "\"", file.content());
    body.writeBytes(("--" + boundary + "--\r\n").getBytes(StandardCharsets.US_ASCII));
    return body.toByteArray();
  }

  private static void part(
      ByteArrayOutputStream body, String boundary, String disposition, byte[] content) {
    String head =
        "--" + boundary + "\r\nContent-Disposition: form-data; " + disposition + "\r\n\r\n";
    body.writeBytes(head.getBytes(StandardCharsets.UTF_8));
    body.writeBytes(content);
    body.writeBytes("\r\n".getBytes(StandardCharsets.US_ASCII));
  }
}
