package org.equiphase.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.load.LoadShop;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;

/** Broken files sent to the service: it answers each with what is wrong, and never with 5xx. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class UploadsFuzzTest {

  private static final int FILES = 150;
  private static final String ORDER = "FUZZ";

  private final ApiClient technician;
  private final ApiClient planner;
  private long benchId;

  UploadsFuzzTest(RunningService service) {
    technician = service.api(Role.TECHNICIAN);
    planner = service.api(Role.PLANNER);
  }

  @BeforeAll
  void shop() {
    Fuzzing.quiet();
    LoadShop shop = LoadShop.equip(planner, 1);
    benchId = shop.benchIds().get(0);
    shop.order(planner, ORDER, 1, 2);
  }

  @Test
  void sweeps() {
    broken("Touchstone", file -> sweep("a.s2p", file));
  }

  @Test
  void phases() {
    broken("CSV of phases", file -> sweep("a.csv", file));
  }

  @Test
  void orders() {
    for (String kind : List.of("CSV of orders", "XLSX of orders, the file")) {
      broken(kind, file -> upload(planner, "/api/v1/workorders/imports", "orders", file));
    }
  }

  @Test
  void workbooks() {
    String path = "/api/v1/workorders/" + ORDER + "/workbook";
    byte[] good = planner.download(path + ".xlsx").body();
    Package book = Package.of(good);
    for (String part : List.of("xl/worksheets/sheet2.xml", "xl/sharedStrings.xml")) {
      Mutator mutator =
          new Mutator(
              1,
              List.of(book.part(part)),
              Readers.named("Workbook back, its sheet").words(),
              1 << 20);
      for (int i = 0; i < FILES; i++) {
        assertAnswered(upload(planner, path, "back.xlsx", book.with(part, mutator.next())));
      }
    }
  }

  private interface Sender {
    HttpResponse<String> send(byte[] file);
  }

  private static void broken(String kind, Sender sender) {
    Readers reader = Readers.named(kind);
    Mutator mutator = new Mutator(1, reader.good(), reader.words(), 1 << 18);
    for (int i = 0; i < FILES; i++) {
      assertAnswered(sender.send(mutator.next()));
    }
  }

  private HttpResponse<String> sweep(String name, byte[] file) {
    return technician.upload(
        "/api/v1/readings/sweeps",
        new Multipart()
            .field("serial", LoadShop.serial(ORDER, 0, 0))
            .field("benchId", "" + benchId)
            .field("temperatureC", "23")
            .file("file", name, file));
  }

  private static HttpResponse<String> upload(ApiClient api, String path, String name, byte[] file) {
    return api.upload(path, new Multipart().file("file", name, file));
  }

  private static void assertAnswered(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 499);
    if (answer.statusCode() >= 400) {
      assertThat(answer.body()).contains("\"detail\"");
    }
  }
}
