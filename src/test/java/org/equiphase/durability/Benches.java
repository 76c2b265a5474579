package org.equiphase.durability;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.account.Role;
import org.equiphase.load.LoadShop;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/**
 * Several benches that log readings as fast as they are answered. Each reading has a phase of its
 * own, by which it is known again. What is not answered is sent once more under the same key, as
 * the bench page and the station do.
 */
final class Benches implements AutoCloseable {

  private static final int MEMBERS = 4;

  private final int count;
  private final long benchId;
  private final AtomicInteger next = new AtomicInteger();
  private final AtomicInteger repeated = new AtomicInteger();
  private final Map<Integer, Long> acknowledged = new ConcurrentHashMap<>();
  private final ConcurrentLinkedQueue<Sent> unanswered = new ConcurrentLinkedQueue<>();
  private final ConcurrentLinkedQueue<String> refusals = new ConcurrentLinkedQueue<>();
  private final List<Thread> threads = new ArrayList<>();
  private final String token;
  private volatile @Nullable String url;
  private volatile boolean finishing;
  private volatile boolean closed;

  private record Sent(int number, String key) {}

  /** Makes catalog and order for as many benches, which then wait. */
  Benches(BuiltJar service, int count) {
    this.count = count;
    ApiClient planner = service.basic(Role.PLANNER);
    LoadShop shop = LoadShop.equip(planner, 1);
    benchId = shop.benchIds().get(0);
    shop.order(planner, "D", count, MEMBERS);
    token =
        ApiClient.json(
                LoadShop.must(
                    service
                        .basic(Role.TECHNICIAN)
                        .post("/api/v1/account/tokens", "{\"name\": \"benches\"}")))
            .get("secret")
            .asString();
    for (int bench = 0; bench < count; bench++) {
      int set = bench;
      Thread thread = new Thread(() -> log(set), "bench-" + bench);
      thread.setDaemon(true);
      threads.add(thread);
      thread.start();
    }
  }

  /** From now on they log to this service. */
  void logTo(BuiltJar service) {
    url = service.url();
  }

  /** They wait; what was sent and not answered stays theirs to send again. */
  void pause() {
    url = null;
  }

  int acknowledgedCount() {
    return acknowledged.size();
  }

  /** Returns once so many more are acknowledged, or after a minute. */
  void awaitMore(int readings) {
    int enough = acknowledged.size() + readings;
    for (int i = 0; i < 6000 && acknowledged.size() < enough; i++) {
      BuiltJar.sleep(10);
    }
  }

  int repeatedCount() {
    return repeated.get();
  }

  List<String> refusals() {
    return List.copyOf(refusals);
  }

  private void log(int set) {
    while (!closed) {
      String target = url;
      if (target == null) {
        BuiltJar.sleep(10);
        continue;
      }
      Sent again = unanswered.poll();
      if (again == null && finishing) {
        return;
      }
      Sent sent =
          again == null ? new Sent(next.getAndIncrement(), UUID.randomUUID().toString()) : again;
      try {
        if (!isAcknowledged(target, sent, again != null)) {
          unanswered.add(sent);
          BuiltJar.sleep(20);
        }
      } catch (UncheckedIOException e) {
        unanswered.add(sent);
        BuiltJar.sleep(20);
      }
    }
  }

  private boolean isAcknowledged(String target, Sent sent, boolean again) {
    HttpResponse<String> answer =
        ApiClient.bearer(target, token)
            .write("POST", "/api/v1/readings", reading(sent.number()), sent.key());
    if (answer.statusCode() != 201) {
      refusals.add(answer.statusCode() + " " + answer.body());
      return false;
    }
    if (again && answer.headers().firstValue("Idempotency-Replayed").isPresent()) {
      repeated.incrementAndGet();
    }
    acknowledged.put(sent.number(), ApiClient.json(answer).get("id").asLong());
    return true;
  }

  private String reading(int number) {
    return String.format(
        Locale.ROOT,
        """
        {"serial": "%s", "benchId": %d, "temperatureC": 23,
         "spots": [{"frequencyHz": 2.8e9, "phaseDeg": %.3f}]}
        """,
        serial(number),
        benchId,
        phaseDeg(number));
  }

  private String serial(int number) {
    return LoadShop.serial("D", number % count, number / count % MEMBERS);
  }

  /** A thousandth of a degree tells one reading from the next. */
  private static double phaseDeg(int number) {
    return -179 + number * 0.001;
  }

  /** All that the service holds is what was acknowledged, each once, and the chain is whole. */
  void assertNothingLostOrDoubled(BuiltJar service) {
    assertThat(unanswered).isEmpty();
    assertThat(stored(service)).isEqualTo(acknowledged);
    assertChainIsWhole(service);
  }

  /** What was acknowledged is there; what is there was sent. */
  void assertHolds(BuiltJar service, Map<Integer, Long> atLeast) {
    assertThat(stored(service)).containsAllEntriesOf(atLeast);
    assertThat(acknowledged).containsAllEntriesOf(stored(service));
    assertChainIsWhole(service);
  }

  Map<Integer, Long> acknowledged() {
    return Map.copyOf(acknowledged);
  }

  private static void assertChainIsWhole(BuiltJar service) {
    JsonNode chain =
        ApiClient.json(LoadShop.must(service.basic(Role.QA).get("/api/v1/audit/chain")));
    assertThat(chain.get("linksInAll").asLong()).isZero();
    assertThat(chain.get("sealsInAll").asLong()).isZero();
    assertThat(chain.get("entries").asLong()).isPositive();
  }

  /** Ids by the numbers that their phases tell; fails where a number is there twice. */
  private Map<Integer, Long> stored(BuiltJar service) {
    Map<Integer, Long> stored = new HashMap<>();
    ApiClient api = ApiClient.bearer(service.url(), token);
    IntStream.range(0, count * MEMBERS)
        .mapToObj(this::serial)
        .forEach(
            serial ->
                ApiClient.json(LoadShop.must(api.get("/api/v1/readings?serial=" + serial)))
                    .forEach(
                        reading -> {
                          double phaseDeg =
                              reading.get("spots").get(0).get("measuredPhaseDeg").asDouble();
                          int number = (int) Math.round((phaseDeg + 179) / 0.001);
                          Long other = stored.put(number, reading.get("id").asLong());
                          assertThat(other).as("reading %d is stored twice", number).isNull();
                        }));
    return stored;
  }

  /** They send what was not answered yet, and nothing more. */
  void finish() {
    finishing = true;
    join();
  }

  @Override
  public void close() {
    closed = true;
    join();
  }

  private void join() {
    for (Thread thread : threads) {
      try {
        thread.join(30_000);
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
  }
}
