package org.equiphase.load;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.audit.CopiedLog;
import org.equiphase.review.CopiedDecisions;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;
import tools.jackson.databind.JsonNode;

/**
 * How long QA waits for the pages of review, process and audit, and a planner for the board, with
 * few and with many sets stored. A block of twenty sets is worked over the API once and then copied
 * as often as asked, so that a shop with twenty times the sets has twenty times of everything. Both
 * services run at once and are asked in turn, so that whatever else the machine does meets both.
 * The check of the audit log, which runs once a service has started, is timed before.
 *
 * <p>Arguments: numbers of stored sets, multiples of 20, by default 1000 and 20000; and {@code
 * rounds=} how often each page is asked, by default 100; {@code pages=} what the names of the asked
 * ones begin with, by default all.
 */
public final class ReviewLoad {

  private static final int WARM_UP = 20;
  private static final String NAME_OF_FILE = "shop.mv.db";

  private ReviewLoad() {}

  public static void main(String[] arguments) throws Exception {
    List<Integer> sizes = new ArrayList<>();
    int rounds = 100;
    String pages = "";
    for (String argument : arguments) {
      if (argument.startsWith("rounds=")) {
        rounds = Integer.parseInt(argument.substring("rounds=".length()));
      } else if (argument.startsWith("pages=")) {
        pages = argument.substring("pages=".length());
      } else {
        sizes.add(Integer.valueOf(argument));
      }
    }
    Path folder = Files.createTempDirectory("equiphase-load");
    int exit = 0;
    try {
      run(sizes.isEmpty() ? List.of(1_000, 20_000) : sizes, rounds, asked(pages), folder);
    } catch (RuntimeException e) {
      // The services' threads would keep the program alive.
      e.printStackTrace();
      exit = 1;
    } finally {
      delete(folder);
    }
    System.exit(exit);
  }

  private static List<Page> asked(String pages) {
    return Stream.of(Page.values()).filter(page -> page.name().startsWith(pages)).toList();
  }

  private static void run(List<Integer> sizes, int rounds, List<Page> asked, Path folder)
      throws IOException, InterruptedException {
    Path block = Files.createDirectory(folder.resolve("block"));
    long before = workBlock(block);
    List<Shop> shops = new ArrayList<>();
    for (int size : sizes) {
      Path own = Files.createDirectory(folder.resolve("" + size));
      Files.copy(
          block.resolve(NAME_OF_FILE),
          own.resolve(NAME_OF_FILE),
          StandardCopyOption.REPLACE_EXISTING);
      fill(own, size, before);
      shops.add(new Shop(own, size));
    }
    for (int i = 0; i < WARM_UP + rounds; i++) {
      for (Page page : asked) {
        for (Shop shop : shops) {
          shop.ask(page, i);
        }
      }
    }
    report(shops, asked);
    shops.forEach(Shop::close);
  }

  /** Gives the last audit entry before the work. */
  private static long workBlock(Path folder) throws InterruptedException {
    try (RunningService service = start(folder)) {
      ShopBlock block = new ShopBlock(service);
      block.equip();
      long before = CopiedLog.lastId(service);
      block.work();
      return before;
    }
  }

  private static void fill(Path folder, int sets, long before) throws InterruptedException {
    if (sets % ShopBlock.SETS != 0 || sets == 0) {
      throw new IllegalArgumentException(sets + " sets: takes multiples of " + ShopBlock.SETS);
    }
    long copies = sets / ShopBlock.SETS;
    long startedNs = System.nanoTime();
    // Not under a running service, which would begin to plan the sets as they come.
    SingleConnectionDataSource database =
        new SingleConnectionDataSource(url(folder), "equiphase", "", true);
    BlockFiller filler = new BlockFiller(new JdbcTemplate(database), copies);
    filler.fill();
    database.destroy();
    // Until the log is written, the check at the start finds no seals.
    try (RunningService service = start(folder, "logging.level.org.equiphase.audit=off")) {
      CopiedLog.lastId(service);
      CopiedDecisions.seal(service);
      long entries = new CopiedLog(service).write(before, copies);
      filler.index(service.bean(JdbcTemplate.class));
      System.out.printf(
          Locale.ROOT,
          "%d sets and %d audit entries filled in %.0f s%n",
          sets,
          entries,
          (System.nanoTime() - startedNs) / 1e9);
    }
  }

  private static RunningService start(Path folder, String... more) {
    return RunningService.startOn(
        url(folder),
        Stream.concat(
                Stream.of("equiphase.demo-accounts=true", "logging.level.root=warn"),
                Stream.of(more))
            .toArray(String[]::new));
  }

  private static String url(Path folder) {
    return "jdbc:h2:file:"
        + folder.resolve("shop")
        + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH"
        + ";LOCK_TIMEOUT=10000;WRITE_DELAY=0";
  }

  private static void delete(Path folder) throws IOException {
    try (var files = Files.walk(folder)) {
      files.sorted(Comparator.reverseOrder()).forEach(path -> path.toFile().delete());
    }
  }

  /** What is asked for, and how often the answer must hold a mark for its rows at least. */
  private enum Page {
    QUEUE("queue", "/review?all", "name=\"serials\"", 50),
    QUEUE_KINDS("queue, two kinds", "/review?kind=SHORT&kind=HELD", "name=\"serials\"", 20),
    QUEUE_SERIAL("queue, by serial", "/review?search={short}", "name=\"serials\"", 1),
    QUEUE_ORDER("queue, by order", "/review?order={order}", "name=\"serials\"", 8),
    QUEUE_LATER("queue, page in its middle", "/review?after={finding}", "name=\"serials\"", 30),
    CASE("case", "/review/cases/{short}", "{short}", 1),
    OPTIONS("options of a case", "/review/cases/{short}/options", "CONCESSION", 1),
    PENDING("decisions to countersign", "/review/dispositions", "class=\"serial\"", 10),
    REVIEWED_SET("set, as QA sees it", "/review/sets/{set}", "{prefix}", 16),
    SET("set", "/sets/{set}", "{prefix}", 16),
    PROCESS("process overview", "/process", "<svg class=\"drawn\"", 10),
    CHART(
        "control chart of a cable type",
        "/process/chart?characteristic=FIRST_ERROR&cableType={cable}",
        "data-number=",
        200),
    CHART_FILTERED(
        "the same by bench, person and lot",
        "/process/chart?characteristic=FIRST_ERROR&cableType={cable}&bench={bench}&person=technician&lot={lot}",
        "data-number=",
        16),
    CHART_PERSON(
        "the same by bench and person",
        "/process/chart?characteristic=FIRST_ERROR&cableType={cable}&bench={bench}&person=technician",
        "data-number=",
        80),
    CHART_CSV(
        "control chart as CSV",
        "/process/chart.csv?characteristic=FIRST_ERROR&cableType={cable}",
        "\n",
        200),
    YIELD("first-pass yield", "/process/yield", "<tr", 2),
    CAUSES("causes (Pareto)", "/process/causes", "<tr", 3),
    VELOCITY("velocity factors", "/process/velocity?cableType={cable}", "<tr", 10),
    AUDIT("audit log", "/audit", "<td class=\"time\"", 100),
    AUDIT_SERIAL("audit log of an assembly", "/audit?subjectKey={short}", "<td class=\"time\"", 3),
    AUDIT_WORK(
        "audit log, one action of one person",
        "/audit?actor=technician&action=SIGNED_OFF",
        "<td class=\"time\"",
        100),
    AUDIT_DAY(
        "audit log, one person, one day",
        "/audit?actor=qa&from={day}&to={day}",
        "<td class=\"time\"",
        20),
    BOARD("board", "/board", "data-order=", 50),
    BOARD_LATER("board, page 4", "/board?page=3", "data-order=", 50),
    BOARD_ORDER("board, one order", "/board?search={order}", "data-order=", 1);

    final String words;
    final String path;
    final String mark;
    final int least;

    Page(String words, String path, String mark, int least) {
      this.words = words;
      this.path = path;
      this.mark = mark;
      this.least = least;
    }
  }

  /** One filled service, with QA at its pages. */
  private static final class Shop {

    private final int sets;
    private final RunningService service;
    private final JdbcTemplate jdbc;
    private final PageClient pages;
    private final PageClient planner;
    private final List<Map<String, String>> subjects = new ArrayList<>();
    private final Map<Page, List<Double>> ms = new LinkedHashMap<>();

    Shop(Path folder, int sets) {
      this.sets = sets;
      long startedNs = System.nanoTime();
      service = start(folder);
      double startS = (System.nanoTime() - startedNs) / 1e9;
      jdbc = service.bean(JdbcTemplate.class);
      awaitCheck(startS);
      checkCounts();
      pages = service.pages(Role.QA);
      planner = service.pages(Role.PLANNER);
      findSubjects();
    }

    /** The check runs beside the service once it has started. */
    private void awaitCheck(double startS) {
      ApiClient api = service.api(Role.QA);
      long startedNs = System.nanoTime();
      JsonNode check = ApiClient.json(api.get("/api/v1/audit/chain/latest"));
      while (check.path("entries").asLong() == 0) {
        sleep();
        check = ApiClient.json(api.get("/api/v1/audit/chain/latest"));
      }
      System.out.printf(
          Locale.ROOT,
          "%d sets: started in %.1f s; then %d audit entries and %d sealed rows checked in %.1f s%n",
          sets,
          startS,
          check.get("entries").asLong(),
          check.get("sealedRows").asLong(),
          (System.nanoTime() - startedNs) / 1e9);
      if (check.get("linksInAll").asLong() + check.get("sealsInAll").asLong() > 0) {
        throw new IllegalStateException("the copied log is not whole: " + check);
      }
    }

    private static void sleep() {
      try {
        Thread.sleep(100);
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }

    private void checkCounts() {
      long copies = sets / ShopBlock.SETS;
      expect("matched_set", sets);
      expect("assembly", (long) sets * ShopBlock.MEMBERS);
      expect("reading", (long) sets * ShopBlock.READINGS_PER_SET);
      long findings = count("review_finding where listed and id < " + Copy.STRIDE);
      expect("review_finding where listed", copies * findings);
      expect("(select distinct kind from review_finding where listed)", ShopBlock.KINDS);
      expect("(select distinct matched_set_id from review_finding where listed)", copies);
      expect("set_release", copies * ShopBlock.RELEASED);
      expect("disposition_open", copies);
      expect("process_pending", 0);
      expect(
          "matched_set where id > (select last_set_id from review_finding_fill where id = 1)", 0);
      for (String table :
          List.of(
              "review_finding where listed", "instruction", "process_value", "process_velocity")) {
        System.out.printf("%d rows in %s%n", count(table), table);
      }
    }

    private void expect(String rows, long wanted) {
      if (count(rows) != wanted) {
        throw new IllegalStateException(count(rows) + " and not " + wanted + " of " + rows);
      }
    }

    private long count(String rows) {
      Long count = jdbc.queryForObject("select count(*) from " + rows, Long.class);
      return count == null ? 0 : count;
    }

    /** What to ask for, of copies spread over all there are. */
    private void findSubjects() {
      long copies = sets / ShopBlock.SETS;
      List<Long> findings =
          jdbc.queryForList(
              """
              select id from review_finding where listed
              order by due_on, missing, severity, since, id
              """,
              Long.class);
      for (int i = 0; i < Math.min(copies, 50); i++) {
        Copy copy = new Copy(i * copies / Math.min(copies, 50), copies);
        Map<String, Object> row =
            jdbc.queryForMap(
                """
                select f.matched_set_id, f.serial, f.order_number, f.cable_type_id, v.bench_id, v.lot,
                  cast(v.at at time zone 'UTC' as date) as taken_on
                from review_finding f
                join process_value v on v.serial = ? and v.series_id =
                  (select id from process_series where characteristic = 'FIRST_ERROR')
                where f.serial = ? and f.kind = 'SHORT'
                """,
                copy.name(ShopBlock.serial(4, 1)),
                copy.name(ShopBlock.serial(7, 0)));
        String serial = row.get("serial").toString();
        subjects.add(
            Map.of(
                "short", serial,
                "prefix", serial.substring(0, serial.length() - 2),
                "set", row.get("matched_set_id").toString(),
                "order", row.get("order_number").toString(),
                "cable", row.get("cable_type_id").toString(),
                "bench", row.get("bench_id").toString(),
                "lot", row.get("lot").toString(),
                "day", row.get("taken_on").toString(),
                "finding", findings.get(findings.size() / 2 + i % 10).toString()));
      }
    }

    void ask(Page page, int round) {
      Map<String, String> subject = subjects.get(round % subjects.size());
      long startedNs = System.nanoTime();
      HttpResponse<String> answer =
          (page.name().startsWith("BOARD") ? planner : pages).get(filled(page.path, subject));
      double tookMs = (System.nanoTime() - startedNs) / 1e6;
      String mark = filled(page.mark, subject);
      int found = answer.body().split(Pattern.quote(mark), -1).length - 1;
      if (answer.statusCode() != 200 || found < page.least) {
        throw new IllegalStateException(
            "%s with %d sets: %d, %d times %s instead of at least %d%n%s"
                .formatted(
                    filled(page.path, subject),
                    sets,
                    answer.statusCode(),
                    found,
                    mark,
                    page.least,
                    answer.body()));
      }
      if (round >= WARM_UP) {
        ms.computeIfAbsent(page, p -> new ArrayList<>()).add(tookMs);
      }
    }

    private static String filled(String text, Map<String, String> subject) {
      String filled = text;
      for (Map.Entry<String, String> each : subject.entrySet()) {
        filled = filled.replace("{" + each.getKey() + "}", each.getValue());
      }
      return filled;
    }

    double quantile(Page page, double share) {
      double[] sorted = ms.get(page).stream().mapToDouble(Double::doubleValue).sorted().toArray();
      return sorted[(int) Math.ceil(share * sorted.length) - 1];
    }

    void close() {
      service.close();
    }
  }

  private static void report(List<Shop> shops, List<Page> asked) {
    Shop few = shops.get(0);
    Shop many = shops.get(shops.size() - 1);
    System.out.printf(
        "%n| page | %d sets: p50 / p95 / largest, ms | %d sets: p50 / p95 / largest, ms | times, p50"
            + " / p95 |%n| --- | --- | --- | --- |%n",
        few.sets, many.sets);
    List<String> slower = new ArrayList<>();
    for (Page page : asked) {
      double median = many.quantile(page, 0.5) / few.quantile(page, 0.5);
      double slow = many.quantile(page, 0.95) / few.quantile(page, 0.95);
      System.out.printf(
          Locale.ROOT,
          "| %s | %s | %s | %.2f / %.2f |%n",
          page.words,
          times(few, page),
          times(many, page),
          median,
          slow);
      if (Math.max(median, slow) > 2) {
        slower.add(page.words);
      }
    }
    System.out.printf(
        "%nWith %d sets, %d of %d pages take at most twice their time with %d, at p50 and at p95%s%n",
        many.sets,
        asked.size() - slower.size(),
        asked.size(),
        few.sets,
        slower.isEmpty() ? "" : "; not so: " + String.join(", ", slower));
  }

  private static String times(Shop shop, Page page) {
    return String.format(
        Locale.ROOT,
        "%.1f / %.1f / %.1f",
        shop.quantile(page, 0.5),
        shop.quantile(page, 0.95),
        shop.quantile(page, 1));
  }
}
