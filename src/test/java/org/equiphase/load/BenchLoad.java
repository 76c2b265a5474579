package org.equiphase.load;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * How long the bench waits: from the scan to the page with the form, and from Enter to the page
 * with the instruction, with few and with many readings stored. Both services run at once and are
 * asked in turn, so that whatever else the machine does meets both.
 *
 * <p>Arguments: numbers of stored readings, by default 1000 and 1000000.
 */
public final class BenchLoad {

  private static final int SETS = 40;
  private static final int MEMBERS = 16;
  private static final int WARM_UP = 160;
  private static final double NOMINAL_MM = 1000;
  private static final double DEG_PER_MM = 360 * LoadShop.HERTZ / 1e3 / (0.695 * 299_792_458);

  private BenchLoad() {}

  public static void main(String[] arguments) throws IOException {
    List<Long> sizes =
        arguments.length == 0
            ? List.of(1_000L, 1_000_000L)
            : Arrays.stream(arguments).map(Long::valueOf).toList();
    try {
      run(sizes);
    } catch (RuntimeException e) {
      // The services' threads would keep the program alive.
      e.printStackTrace();
      System.exit(1);
    }
    System.exit(0);
  }

  private static void run(List<Long> sizes) throws IOException {
    List<Shop> shops = new ArrayList<>();
    for (long size : sizes) {
      shops.add(new Shop(size));
    }
    Random random = new Random(4);
    for (int i = 0; i < SETS * MEMBERS; i++) {
      for (Shop shop : shops) {
        shop.round(i, NOMINAL_MM + 0.5 + 2 * random.nextDouble());
      }
    }
    System.out.println("| stored readings | step | p50, ms | p99, ms | largest, ms |");
    System.out.println("| --- | --- | --- | --- | --- |");
    for (Shop shop : shops) {
      shop.report();
      shop.close();
    }
    System.out.printf(
        Locale.ROOT,
        "p99 of the round trip with %d readings is %.2f times that with %d%n",
        sizes.get(sizes.size() - 1),
        shops.get(shops.size() - 1).p99() / shops.get(0).p99(),
        sizes.get(0));
  }

  /** One service on a file database, with a technician at its bench. */
  private static final class Shop {

    private final long size;
    private final Path folder;
    private final RunningService service;
    private final PageClient pages;
    private final long benchId;
    private final List<Double> scanMs = new ArrayList<>();
    private final List<Double> logMs = new ArrayList<>();
    private final List<Double> bothMs = new ArrayList<>();

    Shop(long size) throws IOException {
      this.size = size;
      folder = Files.createTempDirectory("equiphase-load");
      service =
          RunningService.startOn(
              "jdbc:h2:file:"
                  + folder.resolve("shop")
                  + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH"
                  + ";LOCK_TIMEOUT=10000;WRITE_DELAY=0",
              "equiphase.demo-accounts=true",
              "logging.level.root=warn");
      ApiClient planner = service.api(Role.PLANNER);
      LoadShop shop = LoadShop.equip(planner, 1);
      benchId = shop.benchIds().get(0);
      shop.order(planner, "MODEL", 1, MEMBERS);
      shop.order(planner, "LOAD", SETS, MEMBERS);
      pages = service.pages(Role.TECHNICIAN);
      LoadShop.must(
          pages.post("/bench/temperature", Map.of("benchId", benchId, "benchTemperatureC", "23")));
      LoadShop.must(
          pages.post(
              "/bench/reference-checks",
              Map.of(
                  "benchId",
                  benchId,
                  "cableSerial",
                  "REF",
                  "frequencyMhz",
                  "2800",
                  "phaseDeg",
                  "30")));
      log(LoadShop.serial("MODEL", 0, 0), NOMINAL_MM + 1);
      long startedNs = System.nanoTime();
      new Filler(service.bean(JdbcClient.class)).fill(LoadShop.serial("MODEL", 0, 0), size);
      System.out.printf(
          Locale.ROOT,
          "%d readings filled in %.0f s%n",
          size,
          (System.nanoTime() - startedNs) / 1e9);
    }

    /** Scan, type, Enter, read the instruction. */
    void round(int i, double lengthMm) {
      String serial = LoadShop.serial("LOAD", i / MEMBERS, i % MEMBERS);
      long startedNs = System.nanoTime();
      LoadShop.must(pages.get("/bench?serial=" + serial));
      long scannedNs = System.nanoTime();
      log(serial, lengthMm);
      long doneNs = System.nanoTime();
      if (i >= WARM_UP) {
        scanMs.add((scannedNs - startedNs) / 1e6);
        logMs.add((doneNs - scannedNs) / 1e6);
        bothMs.add((doneNs - startedNs) / 1e6);
      }
    }

    private void log(String serial, double lengthMm) {
      double totalDeg = -DEG_PER_MM * lengthMm;
      double shownDeg = totalDeg - 360 * Math.round(totalDeg / 360);
      HttpResponse<String> stored =
          pages.post(
              "/bench/readings",
              Map.of(
                  "serial",
                  serial,
                  "benchId",
                  benchId,
                  "seenReadingId",
                  0,
                  "phaseDeg",
                  String.format(Locale.ROOT, "%.4f", shownDeg)));
      LoadShop.must(stored);
      String page = LoadShop.must(pages.get(pages.location(stored))).body();
      if (!page.contains("Cut ") && !page.contains("n tolerance")) {
        throw new IllegalStateException("no instruction for " + serial);
      }
    }

    double p99() {
      return quantile(bothMs, 0.99);
    }

    void report() {
      line("scan to form", scanMs);
      line("Enter to instruction", logMs);
      line("both", bothMs);
    }

    private void line(String step, List<Double> ms) {
      System.out.printf(
          Locale.ROOT,
          "| %d | %s | %.1f | %.1f | %.1f |%n",
          size,
          step,
          quantile(ms, 0.5),
          quantile(ms, 0.99),
          quantile(ms, 1));
    }

    void close() throws IOException {
      service.close();
      try (var files = Files.walk(folder)) {
        files.sorted(java.util.Comparator.reverseOrder()).forEach(path -> path.toFile().delete());
      }
    }
  }

  private static double quantile(List<Double> values, double share) {
    List<Double> sorted = values.stream().sorted().toList();
    int rank = (int) Math.ceil(share * sorted.size());
    return sorted.get(Math.max(0, Math.min(sorted.size(), rank) - 1));
  }
}
