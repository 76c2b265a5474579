package org.equiphase.traveler;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.nio.file.Path;
import java.time.Instant;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** An order's travelers being made into one file. Read by requests while another thread works. */
class PrintJob {

  enum Kind {
    /** All sheets in one document. */
    PDF,
    /** A document per set and per assembly. */
    ZIP
  }

  enum State {
    WAITING,
    RUNNING,
    READY,
    CANCELLED,
    FAILED
  }

  /** What is told of a job. */
  record View(
      UUID id,
      String orderNumber,
      Kind kind,
      Paper paper,
      State state,
      int done,
      int total,
      @Nullable Sentence failure) {

    /** Whether there is still something to wait for, or to cancel. */
    @JsonIgnore
    public boolean isGoing() {
      return state == State.WAITING || state == State.RUNNING;
    }
  }

  private final UUID id = UUID.randomUUID();
  private final String orderNumber;
  private final Kind kind;
  private final Paper paper;
  private final AtomicBoolean cancelled = new AtomicBoolean();
  private State state = State.WAITING;
  private int done;
  private int total;
  private @Nullable Sentence failure;
  private @Nullable Path file;
  private @Nullable Instant endedAt;

  PrintJob(String orderNumber, Kind kind, Paper paper) {
    this.orderNumber = orderNumber;
    this.kind = kind;
    this.paper = paper;
  }

  UUID id() {
    return id;
  }

  String orderNumber() {
    return orderNumber;
  }

  Kind kind() {
    return kind;
  }

  Paper paper() {
    return paper;
  }

  /** The name under which the file is taken. */
  String fileName() {
    return "travelers-" + orderNumber + (kind == Kind.ZIP ? ".zip" : ".pdf");
  }

  String fileType() {
    return kind == Kind.ZIP ? FileAnswer.ZIP : FileAnswer.PDF;
  }

  synchronized View view() {
    return new View(id, orderNumber, kind, paper, state, done, total, failure);
  }

  /** The file, once it is ready. */
  synchronized @Nullable Path file() {
    return file;
  }

  synchronized @Nullable Instant endedAt() {
    return endedAt;
  }

  synchronized void begin(int total) {
    this.total = total;
    // One that was cancelled at this very moment has ended.
    if (state == State.WAITING) {
      state = State.RUNNING;
    }
  }

  synchronized void step() {
    done++;
  }

  /** Asks it to stop; what is ready already stays. */
  void cancel() {
    cancelled.set(true);
  }

  boolean isCancelled() {
    return cancelled.get();
  }

  synchronized void ready(Path file, Instant at) {
    this.file = file;
    end(State.READY, at);
  }

  synchronized void stopped(Instant at) {
    end(State.CANCELLED, at);
  }

  synchronized void failed(Sentence failure, Instant at) {
    this.failure = failure;
    end(State.FAILED, at);
  }

  private void end(State state, Instant at) {
    this.state = state;
    this.endedAt = at;
  }
}
