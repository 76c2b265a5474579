package org.equiphase.traveler;

import jakarta.annotation.PreDestroy;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.sheet.PdfBinder;
import org.equiphase.sheet.PdfWriter;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;
import org.springframework.util.FileSystemUtils;

/**
 * Makes the travelers of a whole order in the background, sheet by sheet and on disk, so that a
 * long order takes no more memory than a short one. Jobs live on the instance that began them,
 * and for an hour after they have ended.
 */
@Service
class PrintJobs {

  static final Duration KEPT = Duration.ofHours(1);

  private static final int AT_ONCE = 2;
  private static final int WAITING = 8;

  /** Beyond these the oldest that has ended goes before its hour is over. */
  private static final int MOST_KEPT = 50;

  private final Sheets sheets;
  private final WorkOrders workOrders;
  private final PdfWriter pdf;
  private final Problems problems;
  private final Clock clock;
  private final Map<UUID, PrintJob> jobs = new ConcurrentHashMap<>();
  private final ThreadPoolExecutor workers =
      new ThreadPoolExecutor(
          AT_ONCE,
          AT_ONCE,
          1,
          TimeUnit.MINUTES,
          new ArrayBlockingQueue<>(WAITING),
          work -> {
            Thread thread = new Thread(work, "print");
            thread.setDaemon(true);
            return thread;
          });

  PrintJobs(
      Sheets sheets, WorkOrders workOrders, PdfWriter pdf, Problems problems, Clock clock) {
    this.sheets = sheets;
    this.workOrders = workOrders;
    this.pdf = pdf;
    this.problems = problems;
    this.clock = clock;
    workers.allowCoreThreadTimeOut(true);
  }

  /** One sheet to print. */
  private interface Sheet {
    SheetData gather();
  }

  /** A sheet with the name of its file in an archive. */
  private record Part(String name, Sheet sheet) {}

  /** Begins to print; refused where as many jobs wait as may. */
  PrintJob start(String orderNumber, PrintJob.Kind kind, Paper paper, Locale locale) {
    PrintJob job = new PrintJob(workOrders.orderByNumber(orderNumber).number(), kind);
    if (jobs.size() >= MOST_KEPT) {
      jobs.values().stream()
          .filter(old -> old.endedAt() != null)
          .min(Comparator.comparing(PrintJob::endedAt))
          .ifPresent(this::forget);
    }
    jobs.put(job.id(), job);
    try {
      workers.execute(() -> run(job, paper, locale));
    } catch (RejectedExecutionException e) {
      jobs.remove(job.id());
      throw new ConflictException(Sentence.of("traveler.job.tooMany", AT_ONCE, WAITING));
    }
    return job;
  }

  Optional<PrintJob> find(UUID id) {
    return Optional.ofNullable(jobs.get(id));
  }

  /** Stops a job; one that has not begun ends at once. */
  void cancel(PrintJob job) {
    job.cancel();
    if (job.view().state() == PrintJob.State.WAITING) {
      job.stopped(clock.instant());
    }
  }

  private void run(PrintJob job, Paper paper, Locale locale) {
    if (job.isCancelled()) {
      return;
    }
    Path folder = null;
    try {
      folder = Files.createTempDirectory("equiphase-print");
      List<Part> parts = parts(job.orderNumber());
      job.begin(parts.size());
      Path file =
          job.kind() == PrintJob.Kind.ZIP
              ? zip(job, parts, paper, locale, folder)
              : bind(job, parts, paper, locale, folder);
      if (job.isCancelled()) {
        FileSystemUtils.deleteRecursively(folder);
        job.stopped(clock.instant());
      } else {
        job.ready(file, clock.instant());
      }
    } catch (IOException | RuntimeException e) {
      delete(folder);
      job.failed(problems.of(e).detail(), clock.instant());
    }
  }

  private List<Part> parts(String orderNumber) {
    WorkOrder order = workOrders.orderByNumber(orderNumber);
    List<Part> parts = new ArrayList<>();
    for (var set : workOrders.setsOf(order.id())) {
      parts.add(
          new Part("set-" + set.name(), () -> sheets.set(set.id()).setsOnly()));
      workOrders
          .members(set.id())
          .forEach(a -> parts.add(new Part(a.serial(), () -> sheets.assembly(a.serial()))));
    }
    workOrders.assembliesOf(order.id()).stream()
        .filter(a -> a.setId() == null && !a.isGone())
        .forEach(a -> parts.add(new Part(a.serial(), () -> sheets.assembly(a.serial()))));
    return parts;
  }

  private Path zip(PrintJob job, List<Part> parts, Paper paper, Locale locale, Path folder)
      throws IOException {
    Path file = folder.resolve("travelers.zip");
    try (OutputStream out = Files.newOutputStream(file);
        ZipOutputStream zip = new ZipOutputStream(out)) {
      int width = Integer.toString(parts.size()).length();
      for (int i = 0; i < parts.size() && !job.isCancelled(); i++) {
        // Numbered, so that files lie in the order of the travelers and no two share a name.
        String number = String.format(Locale.ROOT, "%0" + width + "d", i + 1);
        zip.putNextEntry(
            new ZipEntry(number + "-" + FileAnswer.safe(parts.get(i).name()) + ".pdf"));
        zip.write(print(parts.get(i), paper, locale));
        zip.closeEntry();
        job.step();
      }
    }
    return file;
  }

  private Path bind(PrintJob job, List<Part> parts, Paper paper, Locale locale, Path folder)
      throws IOException {
    List<Path> printed = new ArrayList<>();
    for (int i = 0; i < parts.size() && !job.isCancelled(); i++) {
      Path part = folder.resolve(i + ".pdf");
      Files.write(part, print(parts.get(i), paper, locale));
      printed.add(part);
      job.step();
    }
    Path file = folder.resolve("travelers.pdf");
    if (!job.isCancelled()) {
      PdfBinder.bind(printed, file);
      for (Path part : printed) {
        Files.delete(part);
      }
    }
    return file;
  }

  private byte[] print(Part part, Paper paper, Locale locale) {
    return pdf.write("traveler/sheets", part.sheet().gather(), paper, locale);
  }

  /** Lets go of what ended an hour ago. */
  @Scheduled(fixedDelay = 5, timeUnit = TimeUnit.MINUTES)
  void expire() {
    Instant before = clock.instant().minus(KEPT);
    for (PrintJob job : jobs.values()) {
      Instant endedAt = job.endedAt();
      if (endedAt != null && endedAt.isBefore(before)) {
        forget(job);
      }
    }
  }

  void forget(PrintJob job) {
    jobs.remove(job.id());
    Path file = job.file();
    delete(file == null ? null : file.getParent());
  }

  private static void delete(@Nullable Path folder) {
    try {
      if (folder != null) {
        FileSystemUtils.deleteRecursively(folder);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @PreDestroy
  void stop() {
    jobs.values().forEach(PrintJob::cancel);
    workers.shutdownNow();
    jobs.values().forEach(this::forget);
  }
}
