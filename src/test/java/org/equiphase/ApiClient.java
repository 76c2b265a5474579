package org.equiphase;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.UUID;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Calls the API; each write gets an idempotency key of its own unless the caller sets one. */
public final class ApiClient {

  private static final HttpClient HTTP = HttpClient.newHttpClient();
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final String url;
  private final String authorization;

  ApiClient(String url, String authorization) {
    this.url = url;
    this.authorization = authorization;
  }

  /** Signed in by a token. */
  public static ApiClient bearer(String url, String token) {
    return new ApiClient(url, "Bearer " + token);
  }

  /** Signed in by HTTP Basic. */
  public static ApiClient basic(String url, String username, String password) {
    byte[] pair = (username + ":" + password).getBytes(StandardCharsets.UTF_8);
    return new ApiClient(url, "Basic " + Base64.getEncoder().encodeToString(pair));
  }

  public HttpResponse<String> get(String path) {
    return send(request(path).GET());
  }

  public HttpResponse<byte[]> download(String path) {
    return exchange(request(path).GET(), BodyHandlers.ofByteArray());
  }

  public HttpResponse<String> post(String path, String json) {
    return write("POST", path, json, UUID.randomUUID().toString());
  }

  public HttpResponse<String> put(String path, String json) {
    return write("PUT", path, json, UUID.randomUUID().toString());
  }

  public HttpResponse<String> delete(String path) {
    return write("DELETE", path, "", UUID.randomUUID().toString());
  }

  /** A write with the caller's own idempotency key. */
  public HttpResponse<String> write(String method, String path, String json, String key) {
    return send(
        request(path)
            .header("Content-Type", "application/json")
            .header("Idempotency-Key", key)
            .method(method, BodyPublishers.ofString(json)));
  }

  /** Sends fields and files as multipart data. */
  public HttpResponse<String> upload(String path, Multipart parts) {
    return upload(path, parts, UUID.randomUUID().toString());
  }

  /** Sends fields and files with the caller's own idempotency key. */
  public HttpResponse<String> upload(String path, Multipart parts, String key) {
    return send(
        request(path)
            .header("Content-Type", parts.contentType())
            .header("Idempotency-Key", key)
            .POST(BodyPublishers.ofByteArray(parts.bytes())));
  }

  /** A request with the sign-in only, to which the caller adds the rest. */
  public HttpRequest.Builder request(String path) {
    HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(url + path));
    if (!authorization.isEmpty()) {
      request.header("Authorization", authorization);
    }
    return request;
  }

  public HttpResponse<String> send(HttpRequest.Builder request) {
    return exchange(request, BodyHandlers.ofString());
  }

  /** An answer's body as JSON. */
  public static JsonNode json(HttpResponse<String> response) {
    return JSON.readTree(response.body());
  }

  private static <T> HttpResponse<T> exchange(
      HttpRequest.Builder request, HttpResponse.BodyHandler<T> handler) {
    try {
      return HTTP.send(request.build(), handler);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }
}
