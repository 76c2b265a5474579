package org.equiphase.postgresql;

import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.equiphase.ApiClient;

/** Sends readings as a bench does that gets no answer: again, under the same key. */
final class PatientSender {

  private static final int TRIES = 150;
  private static final long PAUSE_MS = 200;

  private PatientSender() {}

  /**
   * Sends to one instance after the other until there is an answer; 503 is none.
   *
   * @param repeated counts what was sent again
   */
  static HttpResponse<String> send(
      List<ApiClient> instances, String reading, String key, AtomicInteger repeated) {
    for (int attempt = 0; attempt < TRIES; attempt++) {
      if (attempt > 0) {
        repeated.incrementAndGet();
      }
      try {
        HttpResponse<String> answer =
            instances
                .get(attempt % instances.size())
                .write("POST", "/api/v1/readings", reading, key);
        if (answer.statusCode() != 503) {
          return answer;
        }
        Thread.sleep(PAUSE_MS);
      } catch (UncheckedIOException e) {
        // The instance is gone; on to the next.
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
    throw new AssertionError("no answer in " + TRIES + " tries");
  }
}
