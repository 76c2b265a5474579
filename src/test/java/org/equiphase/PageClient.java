package org.equiphase;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Uses the pages as a browser without scripts does: a cookie, forms, and redirects, which the
 * caller follows.
 */
public final class PageClient {

  private static final Pattern CSRF = Pattern.compile("name=\"csrf-token\" content=\"([^\"]+)\"");

  private static final String ACCEPT = "text/html,application/xhtml+xml,*/*;q=0.8";

  private final HttpClient http =
      HttpClient.newBuilder()
          .cookieHandler(new CookieManager())
          .followRedirects(HttpClient.Redirect.NEVER)
          .build();
  private final String url;
  private String csrfToken = "";
  private String languages = "";

  PageClient(String url) {
    this.url = url;
  }

  /** Asks for pages in these languages from now on, as in the header Accept-Language. */
  public PageClient reading(String languages) {
    this.languages = languages;
    return this;
  }

  public HttpResponse<String> signIn(String username, String password) {
    get("/sign-in");
    HttpResponse<String> answer =
        post("/sign-in", Map.of("username", username, "password", password));
    get("/account");
    return answer;
  }

  /** A page; its CSRF token goes with the next form. */
  public HttpResponse<String> get(String path) {
    HttpResponse<String> answer = send(request(path).header("Accept", ACCEPT).GET());
    Matcher token = CSRF.matcher(answer.body());
    if (token.find()) {
      csrfToken = token.group(1);
    }
    return answer;
  }

  public HttpResponse<byte[]> download(String path) {
    return exchange(request(path).GET(), BodyHandlers.ofByteArray());
  }

  /** Sends a form with CSRF token and a fresh idempotency key. */
  public HttpResponse<String> post(String path, Map<String, ?> fields) {
    Map<String, Object> all = new LinkedHashMap<>(fields);
    all.putIfAbsent("_csrf", csrfToken);
    all.putIfAbsent("idempotencyKey", UUID.randomUUID().toString());
    return postBare(path, all);
  }

  /** Sends a form with these fields and no others; a list sends its field several times. */
  public HttpResponse<String> postBare(String path, Map<String, ?> fields) {
    StringBuilder form = new StringBuilder();
    fields.forEach(
        (name, value) -> {
          for (Object each : value instanceof List<?> several ? several : List.of(value)) {
            form.append(form.isEmpty() ? "" : "&").append(encode(name)).append('=');
            form.append(encode(each.toString()));
          }
        });
    return send(
        request(path)
            .header("Accept", ACCEPT)
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(BodyPublishers.ofString(form.toString())));
  }

  /** Sends a form with files, with CSRF token and a fresh idempotency key. */
  public HttpResponse<String> upload(String path, Multipart parts) {
    parts.field("_csrf", csrfToken).field("idempotencyKey", UUID.randomUUID().toString());
    return send(
        request(path)
            .header("Accept", ACCEPT)
            .header("Content-Type", parts.contentType())
            .POST(BodyPublishers.ofByteArray(parts.bytes())));
  }

  public HttpRequest.Builder request(String path) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(path.startsWith("http") ? path : url + path));
    return languages.isEmpty() ? request : request.header("Accept-Language", languages);
  }

  public HttpResponse<String> send(HttpRequest.Builder request) {
    return exchange(request, BodyHandlers.ofString());
  }

  /** Where a redirect leads, without the address of the service. */
  public String location(HttpResponse<?> answer) {
    String location = answer.headers().firstValue("Location").orElse("");
    return location.startsWith(url) ? location.substring(url.length()) : location;
  }

  private <T> HttpResponse<T> exchange(
      HttpRequest.Builder request, HttpResponse.BodyHandler<T> handler) {
    try {
      return http.send(request.build(), handler);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static String encode(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
