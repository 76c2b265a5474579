package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.sheet.Barcodes;
import org.equiphase.sheet.Paper;
import org.equiphase.web.ConflictException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;

/** Whole orders, printed in the background. */
@ExtendWith(RunningService.Extension.class)
class PrintJobTest {

  private static final Duration PATIENCE = Duration.ofMinutes(3);

  private final RunningService service;

  PrintJobTest(RunningService service) {
    this.service = service;
  }

  @Test
  void onePdfHoldsEverySheet() throws Exception {
    TravelerShop shop = TravelerShop.trimming(service);
    PageClient pages = service.pages(Role.PLANNER);
    pages.get("/traveler/workorders/" + shop.orderPath());
    HttpResponse<String> begun =
        pages.post("/traveler/jobs", Map.of("order", shop.order, "kind", "PDF", "paper", "letter"));
    String job = path(pages.location(begun));
    assertThat(job).startsWith("/traveler/jobs/");
    until(() -> pages.get(job).body().contains("Ready: 6 sheets."));
    HttpResponse<byte[]> file = pages.download(job + "/file");
    assertThat(file.headers().firstValue("Content-Disposition").orElse(""))
        .contains("travelers-" + shop.order.replace(" & ", "-") + ".pdf");
    try (PDDocument pdf = Loader.loadPDF(file.body())) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(6);
      assertThat(pdf.getPage(0).getMediaBox().getWidth()).isEqualTo(612);
      assertThat(new PDFTextStripper().getText(pdf))
          .contains("Set traveler: A", shop.inPool())
          .contains(shop.members());
      Set<String> codes =
          Barcodes.on(new PDFRenderer(pdf).renderImageWithDPI(2, 200, ImageType.RGB));
      assertThat(codes).contains(shop.serial(2) + "/A", shop.serial(2) + "/A/10");
    }
  }

  @Test
  void oneZipHoldsADocumentForEach() throws Exception {
    TravelerShop shop = TravelerShop.trimming(service);
    ApiClient api = service.api(Role.TECHNICIAN);
    HttpResponse<String> begun =
        api.post(
            "/api/v1/traveler/jobs",
            "{\"orderNumber\": \"%s\", \"kind\": \"ZIP\"}".formatted(shop.order));
    assertThat(begun.statusCode()).isEqualTo(202);
    String job = "/api/v1/traveler/jobs/" + ApiClient.json(begun).get("id").asString();
    until(() -> ApiClient.json(api.get(job)).get("state").asString().equals("READY"));
    Set<String> names = new TreeSet<>();
    try (ZipInputStream zip =
        new ZipInputStream(new ByteArrayInputStream(api.download(job + "/file").body()))) {
      for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
        names.add(entry.getName());
        try (PDDocument pdf = Loader.loadPDF(zip.readAllBytes())) {
          assertThat(pdf.getNumberOfPages()).isEqualTo(1);
        }
      }
    }
    assertThat(names)
        .containsExactly(
            "0001-set-A.pdf",
            "0002-" + shop.serial(1) + ".pdf",
            "0003-" + shop.serial(2) + ".pdf",
            "0004-" + shop.serial(3) + ".pdf",
            "0005-" + shop.serial(4) + ".pdf",
            "0006-" + shop.inPool() + ".pdf");
  }

  @Test
  void aCancelledJobKeepsNothing() throws Exception {
    TravelerShop shop = TravelerShop.trimming(service);
    PageClient pages = service.pages(Role.PLANNER);
    pages.get("/workorders");
    try (BusyWorkers busy = new BusyWorkers(service.bean(PrintJobs.class))) {
      String job =
          path(
              pages.location(
                  pages.post("/traveler/jobs", Map.of("order", shop.order, "kind", "PDF"))));
      assertThat(pages.get(job).body()).contains("Waiting", "Cancel", "http-equiv=\"refresh\"");
      assertThat(pages.post(job + "/cancel", Map.of()).statusCode()).isEqualTo(302);
      assertThat(pages.get(job).body()).contains("Cancelled after 0 of").doesNotContain("refresh");
      assertThat(pages.get(job + "/file").statusCode()).isEqualTo(404);
    }
  }

  @Test
  void aJobCancelledOnItsWayKeepsNothing() {
    PrintJob job =
        new PrintJob(TravelerShop.trimming(service).order, PrintJob.Kind.PDF, Paper.A4) {
          @Override
          synchronized void step() {
            super.step();
            cancel();
          }
        };
    service.bean(PrintJobs.class).run(job, Locale.ENGLISH);
    assertThat(job.view().state()).isEqualTo(PrintJob.State.CANCELLED);
    assertThat(job.view().done()).isEqualTo(1);
    assertThat(job.view().total()).isEqualTo(6);
    assertThat(job.file()).isNull();
  }

  @Test
  void aJobThatIsGoneIsSaidClearly() {
    PageClient pages = service.pages(Role.QA);
    for (String id : List.of(UUID.randomUUID().toString(), "none")) {
      for (String path : List.of(id, id + "/file")) {
        HttpResponse<String> gone = pages.get("/traveler/jobs/" + path);
        assertThat(gone.statusCode()).isEqualTo(404);
        assertThat(gone.body()).contains("not here any more", "restart of the service");
      }
    }
    // What was asked for stands in the address, so it can be begun again.
    String lost = "/traveler/jobs/" + UUID.randomUUID() + "?order=W+%26+1&kind=ZIP&paper=LETTER";
    assertThat(pages.get(lost).body())
        .contains("Make the travelers of order W &amp; 1 again, ZIP")
        .containsPattern("name=\"order\" value=\"W &amp; 1\"")
        .containsPattern("name=\"paper\" value=\"LETTER\"");
    HttpResponse<String> api =
        service.api(Role.QA).get("/api/v1/traveler/jobs/" + UUID.randomUUID());
    assertThat(api.statusCode()).isEqualTo(404);
    assertThat(api.body()).contains("There is no print job");
    HttpResponse<String> noOrder =
        service
            .api(Role.QA)
            .post("/api/v1/traveler/jobs", "{\"orderNumber\": \"none\", \"kind\": \"PDF\"}");
    assertThat(noOrder.statusCode()).isEqualTo(404);
  }

  @Test
  void whatAKilledServiceLeftIsDeletedAfterADay() throws IOException {
    Path old = Files.createTempDirectory("equiphase-print");
    Path young = Files.createTempDirectory("equiphase-print");
    Files.writeString(old.resolve("travelers.pdf"), "left over");
    Files.setLastModifiedTime(old, FileTime.from(Instant.now().minus(Duration.ofHours(25))));
    service.bean(PrintJobs.class).expire();
    assertThat(old).doesNotExist();
    assertThat(young).exists();
    Files.delete(young);
  }

  /** Two run and eight wait; the next one is told so. */
  @Test
  void onlySoManyWaitAndAFileGoesWithItsJob() throws Exception {
    TravelerShop shop = TravelerShop.trimming(service);
    PrintJobs jobs = service.bean(PrintJobs.class);
    List<PrintJob> begun = new ArrayList<>();
    try (BusyWorkers busy = new BusyWorkers(jobs)) {
      for (int i = 0; i < PrintJobs.WAITING; i++) {
        begun.add(jobs.start(shop.order, PrintJob.Kind.ZIP, Paper.A4, Locale.ENGLISH));
      }
      assertThatThrownBy(() -> jobs.start(shop.order, PrintJob.Kind.ZIP, Paper.A4, Locale.ENGLISH))
          .isInstanceOf(ConflictException.class)
          .hasMessageContaining("Try again when one of them is ready");
      begun.subList(1, begun.size()).forEach(jobs::cancel);
    }
    assertThat(begun.subList(1, begun.size())).noneMatch(job -> job.view().isGoing());
    PrintJob first = begun.get(0);
    until(() -> first.view().state() == PrintJob.State.READY);
    Path file = Objects.requireNonNull(first.file());
    assertThat(file).exists();
    jobs.expire();
    assertThat(jobs.find(first.id())).isPresent();
    jobs.forget(first);
    assertThat(jobs.find(first.id())).isEmpty();
    assertThat(Files.exists(file.getParent())).isFalse();
  }

  /** Keeps all workers from jobs until closed. */
  private static final class BusyWorkers implements AutoCloseable {
    private final CountDownLatch free = new CountDownLatch(1);

    BusyWorkers(PrintJobs jobs) throws InterruptedException {
      CountDownLatch busy = new CountDownLatch(PrintJobs.AT_ONCE);
      for (int i = 0; i < PrintJobs.AT_ONCE; i++) {
        jobs.workers.execute(
            () -> {
              busy.countDown();
              try {
                free.await();
              } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
              }
            });
      }
      assertThat(busy.await(PATIENCE.toSeconds(), TimeUnit.SECONDS)).as("free workers").isTrue();
    }

    @Override
    public void close() {
      free.countDown();
    }
  }

  private static String path(String location) {
    return location.replaceFirst("\\?.*", "");
  }

  private interface Condition {
    boolean holds() throws IOException;
  }

  private static void until(Condition condition) throws Exception {
    long end = System.nanoTime() + PATIENCE.toNanos();
    while (!condition.holds()) {
      assertThat(System.nanoTime()).as("still waiting").isLessThan(end);
      Thread.sleep(100);
    }
  }
}
