package org.equiphase.traveler;

import jakarta.annotation.PreDestroy;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
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
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;
import org.springframework.util.FileSystemUtils;

/**
 * Makes the travelers of a whole order in the background, sheet by sheet and on disk, so that a
 * long order takes no more memory than a short one. Jobs live on the instance that began them, and
 * for an hour after they have ended.
 */
@Service
class PrintJobs {

  static final Duration KEPT = Duration.ofHours(1);

  private static final String FOLDER = "equiphase-print";

  /** No instance is so slow: older folders were left by one that was killed. */
  private static final Duration LEFT_OVER = Duration.ofDays(1);

  static final int AT_ONCE = 2;
  static final int WAITING = 8;

  /** Beyond these the oldest that has ended goes before its hour is over. */
  private static final int MOST_KEPT = 50;

  private static final Logger log = LoggerFactory.getLogger(PrintJobs.class);

  private final Sheets sheets;
  private final WorkOrders workOrders;
  private final PdfWriter pdf;
  private final Problems problems;
  private final Clock clock;
  private final Map<UUID, PrintJob> jobs = new ConcurrentHashMap<>();

  /** Tests keep these busy to see jobs wait. */
  final ThreadPoolExecutor workers =
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

  PrintJobs(Sheets sheets, WorkOrders workOrders, PdfWriter pdf, Problems problems, Clock clock) {
    this.sheets = sheets;
    this.workOrders = workOrders;
    this.pdf = pdf;
    this.problems = problems;
    this.clock = clock;
    workers.allowCoreThreadTimeOut(true);
  }

  /** Does something with each sheet of an order in turn. */
  private interface Taker {
    void take(String name, SheetData sheet) throws IOException;
  }

  /** Begins to print; refused where as many jobs wait as may. */
  PrintJob start(String orderNumber, PrintJob.Kind kind, Paper paper, Locale locale) {
    PrintJob job = new PrintJob(workOrders.orderByNumber(orderNumber).number(), kind, paper);
    if (jobs.size() >= MOST_KEPT) {
      jobs.values().stream()
          .filter(old -> old.endedAt() != null)
          .min(Comparator.comparing(PrintJob::endedAt))
          .ifPresent(this::forget);
    }
    jobs.put(job.id(), job);
    try {
      workers.execute(() -> run(job, locale));
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

  void run(PrintJob job, Locale locale) {
    if (job.isCancelled()) {
      return;
    }
    Path folder = null;
    try {
      folder = Files.createTempDirectory(FOLDER);
      Path file =
          job.kind() == PrintJob.Kind.ZIP ? zip(job, locale, folder) : bind(job, locale, folder);
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

  /** Set by set, so that one set at a time is in memory and each is planned once. */
  private void forEachSheet(PrintJob job, Taker taker) throws IOException {
    WorkOrder order = workOrders.orderByNumber(job.orderNumber());
    List<MatchedSet> sets = workOrders.setsOf(order.id());
    List<String> inPool =
        workOrders.assembliesOf(order.id()).stream()
            .filter(a -> a.setId() == null && !a.isGone())
            .map(Assembly::serial)
            .toList();
    int members = sets.stream().mapToInt(set -> workOrders.members(set.id()).size()).sum();
    job.begin(sets.size() + members + inPool.size());
    for (MatchedSet set : sets) {
      if (job.isCancelled()) {
        return;
      }
      SheetData data = sheets.set(set.id());
      taker.take("set-" + set.name(), data.setsOnly());
      for (SheetData.AssemblySheet member : data.assemblies()) {
        if (job.isCancelled()) {
          return;
        }
        taker.take(member.assembly().serial(), data.only(member));
      }
    }
    for (String serial : inPool) {
      if (job.isCancelled()) {
        return;
      }
      taker.take(serial, sheets.assembly(serial));
    }
  }

  private Path zip(PrintJob job, Locale locale, Path folder) throws IOException {
    Path file = folder.resolve("travelers.zip");
    try (OutputStream out = Files.newOutputStream(file);
        ZipOutputStream zip = new ZipOutputStream(out)) {
      forEachSheet(
          job,
          (name, sheet) -> {
            // Numbered, so that files lie in the order of the travelers and no two share a name.
            int number = job.view().done() + 1;
            zip.putNextEntry(
                new ZipEntry(
                    String.format(Locale.ROOT, "%04d-%s.pdf", number, FileAnswer.safe(name))));
            zip.write(print(sheet, job.paper(), locale));
            zip.closeEntry();
            job.step();
          });
    }
    return file;
  }

  private Path bind(PrintJob job, Locale locale, Path folder) throws IOException {
    List<Path> printed = new ArrayList<>();
    forEachSheet(
        job,
        (name, sheet) -> {
          Path part = folder.resolve(printed.size() + ".pdf");
          Files.write(part, print(sheet, job.paper(), locale));
          printed.add(part);
          job.step();
        });
    Path file = folder.resolve("travelers.pdf");
    if (!job.isCancelled()) {
      PdfBinder.bind(printed, file);
      for (Path part : printed) {
        Files.delete(part);
      }
    }
    return file;
  }

  private byte[] print(SheetData sheet, Paper paper, Locale locale) {
    return pdf.write("traveler/sheets", sheet, paper, locale);
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
    deleteLeftOver();
  }

  /** A service that was killed could not delete its files. */
  private void deleteLeftOver() {
    Instant before = clock.instant().minus(LEFT_OVER);
    Path temporary = Path.of(System.getProperty("java.io.tmpdir"));
    try (DirectoryStream<Path> folders = Files.newDirectoryStream(temporary, FOLDER + "*")) {
      for (Path folder : folders) {
        if (Files.getLastModifiedTime(folder).toInstant().isBefore(before)) {
          FileSystemUtils.deleteRecursively(folder);
        }
      }
    } catch (IOException e) {
      log.warn("What a killed service printed could not be deleted", e);
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
