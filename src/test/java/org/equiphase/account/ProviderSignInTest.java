package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.crypto.RSASSASigner;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.RSAKey;
import com.nimbusds.jose.jwk.gen.RSAKeyGenerator;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.URLDecoder;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.Date;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.audit.AuditLog;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Sign-in through an identity provider by OpenID Connect Core 1.0, authorization code flow (section
 * 3.1). The provider is a small one of the test's own; its tokens are signed by a general library.
 */
class ProviderSignInTest {

  private static SmallProvider provider;
  private static RunningService service;

  /** Discovery, authorization, token and key endpoints; whoever asks is the present user. */
  private static final class SmallProvider {
    final HttpServer server;
    final RSAKey key = newKey("signing");
    final Map<String, String> nonces = new ConcurrentHashMap<>();
    volatile RSAKey signingKey = key;
    volatile String subject = "";
    volatile String name = "";
    volatile String audience = "equiphase";

    SmallProvider() throws IOException {
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
      server.createContext("/.well-known/openid-configuration", this::discovery);
      server.createContext("/authorize", this::authorize);
      server.createContext("/token", this::token);
      server.createContext("/keys", exchange -> json(exchange, new JWKSet(key).toString()));
      server.start();
    }

    static RSAKey newKey(String id) {
      try {
        return new RSAKeyGenerator(2048).keyID(id).generate();
      } catch (JOSEException e) {
        throw new IllegalStateException(e);
      }
    }

    String issuer() {
      return "http://localhost:" + server.getAddress().getPort();
    }

    void is(String newSubject, String newName) {
      subject = newSubject;
      name = newName;
    }

    private void discovery(HttpExchange exchange) throws IOException {
      json(
          exchange,
          """
          {"issuer": "%1$s", "authorization_endpoint": "%1$s/authorize",
           "token_endpoint": "%1$s/token", "jwks_uri": "%1$s/keys",
           "response_types_supported": ["code"], "subject_types_supported": ["public"],
           "id_token_signing_alg_values_supported": ["RS256"]}
          """
              .formatted(issuer()));
    }

    private void authorize(HttpExchange exchange) throws IOException {
      Map<String, String> query = fields(exchange.getRequestURI().getRawQuery());
      String code = "code-" + nonces.size();
      nonces.put(code, query.get("nonce"));
      exchange
          .getResponseHeaders()
          .set(
              "Location",
              query.get("redirect_uri") + "?code=" + code + "&state=" + query.get("state"));
      exchange.sendResponseHeaders(302, -1);
      exchange.close();
    }

    private void token(HttpExchange exchange) throws IOException {
      String body = new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
      String nonce = nonces.remove(fields(body).get("code"));
      json(
          exchange,
          "{\"access_token\": \"a\", \"token_type\": \"Bearer\", \"expires_in\": 60, \"id_token\": \""
              + idToken(nonce)
              + "\"}");
    }

    private String idToken(String nonce) {
      JWTClaimsSet claims =
          new JWTClaimsSet.Builder()
              .issuer(issuer())
              .subject(subject)
              .audience(audience)
              .claim("nonce", nonce)
              .claim("preferred_username", name)
              .issueTime(new Date())
              .expirationTime(Date.from(Instant.now().plusSeconds(60)))
              .build();
      SignedJWT token =
          new SignedJWT(new JWSHeader.Builder(JWSAlgorithm.RS256).keyID("signing").build(), claims);
      try {
        token.sign(new RSASSASigner(signingKey));
      } catch (JOSEException e) {
        throw new IllegalStateException(e);
      }
      return token.serialize();
    }

    private static Map<String, String> fields(String query) {
      return Arrays.stream(query.split("&"))
          .map(field -> field.split("=", 2))
          .collect(
              Collectors.toMap(
                  pair -> pair[0], pair -> URLDecoder.decode(pair[1], StandardCharsets.UTF_8)));
    }

    private static void json(HttpExchange exchange, String body) throws IOException {
      byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
      exchange.getResponseHeaders().set("Content-Type", "application/json");
      exchange.sendResponseHeaders(200, bytes.length);
      exchange.getResponseBody().write(bytes);
      exchange.close();
    }
  }

  @BeforeAll
  static void start() throws IOException {
    provider = new SmallProvider();
    String registration = "spring.security.oauth2.client.registration.works.";
    service =
        RunningService.start(
            "equiphase.demo-accounts=true",
            "server.forward-headers-strategy=native",
            registration + "client-id=equiphase",
            registration + "client-secret=secret-of-the-test",
            registration + "client-name=Works account",
            registration + "scope=openid,profile",
            "spring.security.oauth2.client.provider.works.issuer-uri=" + provider.issuer());
  }

  @AfterAll
  static void stop() {
    service.close();
    provider.server.stop(0);
  }

  @Test
  void onlyWhomAnAdministratorNamedGetsIn() {
    provider.is("sub-1", "planner@works.example");
    PageClient pages = service.pages();
    assertThat(pages.get("/sign-in").body()).contains("Sign in by Works account");
    assertThat(signIn(pages)).isEqualTo("/sign-in?stranger");
    assertThat(pages.get("/sign-in?stranger").body()).contains("no account here is tied to you");

    connect("planner", "planner@works.example");
    assertThat(signIn(pages)).isEqualTo("/");
    assertThat(pages.location(pages.get("/"))).isEqualTo("/workorders");
    assertThat(pages.get("/account").body()).contains("Demo Planner", "planner");
    assertThat(pages.get("/people").statusCode()).isEqualTo(403);
    assertThat(
            service.bean(AuditLog.class).entries(null, "person", "planner", null, 100).stream()
                .map(entry -> entry.action()))
        .contains("PROVIDER_NAME_SET", "PROVIDER_TIED", "SIGNED_IN");

    pages.post("/account/preferences", Map.of("language", "de", "lengthUnit", "MM"));
    assertThat(pages.get("/account").body()).contains("Abmelden");
  }

  /**
   * OpenID Connect Core 1.0, section 5.7: only issuer and subject together name a user for good.
   */
  @Test
  void whoeverGetsTheNameLaterDoesNotGetTheAccount() {
    connect("qa", "qa@works.example");
    provider.is("sub-2", "qa@works.example");
    assertThat(signIn(service.pages())).isEqualTo("/");
    provider.is("sub-3", "qa@works.example");
    assertThat(signIn(service.pages())).isEqualTo("/sign-in?stranger");
    provider.is("sub-2", "renamed@works.example");
    assertThat(signIn(service.pages())).isEqualTo("/");

    Accounts accounts = service.bean(Accounts.class);
    Person qa = accounts.person("qa");
    accounts.change("qa", new PersonChange(qa.displayName(), qa.roles(), false, qa.version()));
    assertThat(signIn(service.pages())).isEqualTo("/sign-in?stranger");
  }

  /** Core 1.0, section 3.1.3.7: signature, audience and nonce of the ID token are checked. */
  @Test
  void aForgedTokenIsRefused() {
    connect("technician", "technician@works.example");
    provider.is("sub-4", "technician@works.example");
    try {
      provider.signingKey = SmallProvider.newKey("signing");
      assertThat(signIn(service.pages())).isEqualTo("/sign-in?stranger");
      provider.signingKey = provider.key;
      provider.audience = "another-service";
      assertThat(signIn(service.pages())).isEqualTo("/sign-in?stranger");
    } finally {
      provider.signingKey = provider.key;
      provider.audience = "equiphase";
    }
    assertThat(signIn(service.pages())).isEqualTo("/");
  }

  /** RFC 6749, section 10.12: an answer that this browser did not ask for signs nobody in. */
  @Test
  void anAnswerThatNobodyAskedForIsRefused() {
    PageClient pages = service.pages();
    pages.get("/sign-in");
    assertThat(pages.location(pages.get("/login/oauth2/code/works?code=code-0&state=guessed")))
        .isEqualTo("/sign-in?stranger");
  }

  @Test
  void aNameBelongsToOneAccount() {
    connect("technician2", "twice@works.example");
    PageClient administrator = service.pages(Role.ADMINISTRATOR);
    var refused =
        administrator.post("/people/qa2/provider", Map.of("providerName", "twice@works.example"));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("belongs to another account");
  }

  /** Behind a proxy that speaks TLS the cookie is for TLS only (RFC 6265, section 4.1.2.5). */
  @Test
  void theCookieIsSecureBehindTls() {
    PageClient pages = service.pages();
    var answer = pages.send(pages.request("/sign-in").header("X-Forwarded-Proto", "https").GET());
    assertThat(answer.headers().firstValue("Set-Cookie").orElse("")).contains("; Secure");
    assertThat(answer.headers().firstValue("Strict-Transport-Security")).isPresent();
  }

  private static void connect(String username, String name) {
    assertThat(
            service
                .pages(Role.ADMINISTRATOR)
                .post("/people/" + username + "/provider", Map.of("providerName", name))
                .statusCode())
        .isEqualTo(302);
  }

  /** Follows the redirects as a browser does; answers where the last one leads. */
  private static String signIn(PageClient pages) {
    HttpResponse<String> toProvider = pages.get("/oauth2/authorization/works");
    HttpResponse<String> back = pages.get(location(toProvider));
    String returned = location(back);
    assertThat(URI.create(returned).getPath()).isEqualTo("/login/oauth2/code/works");
    return pages.location(pages.get(returned));
  }

  private static String location(HttpResponse<?> answer) {
    return answer.headers().firstValue("Location").orElseThrow();
  }
}
