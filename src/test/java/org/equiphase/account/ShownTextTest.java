package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Whatever text is stored, pages show it as text and CSV files hold it as text. The demo shop's
 * free texts get markup and a formula written into them, past all checks of input, and then every
 * page is looked at that can be reached from the first by links. (OWASP Web Security Testing Guide
 * 4.2: WSTG-INPV-02, stored scripting; CSV injection as the OWASP page of that name describes it.)
 */
class ShownTextTest {

  private static final String MARKUP = "=1+1\"'><xss-probe>";

  /** Texts that people enter; others are names of kinds, which the service itself writes. */
  private static final Pattern FREE_TEXT =
      Pattern.compile(
          "display_name|.*note.*|.*reason|.*label.*|customer.*|.*file_?name|text|title|comment.*"
              + "|lot|.*_lot|serial_number|name");

  private static final Pattern LINK = Pattern.compile("(?:href|hx-get)=\"(/[^\"#]*)");

  private static final int MOST_PAGES = 250;
  private static final int MOST_OF_A_KIND = 3;

  @Test
  void storedTextStaysText() {
    try (RunningService service =
        RunningService.start("equiphase.demo-accounts=true", "equiphase.demo-data=true")) {
      int planted = plant(service.bean(JdbcClient.class));
      assertThat(planted).isGreaterThan(10);
      Accounts accounts = service.bean(Accounts.class);
      Person qa = accounts.person("qa");
      accounts.change(
          "qa", new PersonChange("All <xss-probe>", Set.of(Role.values()), true, qa.version()));

      Visit visit = new Visit(service.pages(Role.QA));
      visit.all("/bench", "/board", "/workorders", "/review", "/process", "/files", "/catalog");
      visit.all("/audit", "/people", "/account", "/traveler/routes", "/gauge-studies");

      assertThat(visit.pages).hasSizeGreaterThan(40);
      assertThat(visit.showing).as("pages that show planted text").isGreaterThan(20);
      assertThat(visit.tables).as("CSV files").isGreaterThan(1);
      assertThat(visit.found).isEmpty();
    }
  }

  /** Writes the markup into each free text that has room for it; returns into how many columns. */
  private static int plant(JdbcClient jdbc) {
    List<Column> columns =
        jdbc.sql(
                """
                select table_name, column_name, character_maximum_length
                from information_schema.columns
                where table_schema = 'public' and data_type = 'character varying'
                """)
            .query((row, number) -> new Column(row.getString(1), row.getString(2), row.getInt(3)))
            .list();
    int planted = 0;
    for (Column column : columns) {
      if (!FREE_TEXT.matcher(column.name()).matches()
          || column.room() < 40
          || column.table().startsWith("flyway")) {
        continue;
      }
      int changed =
          jdbc.sql(
                  "update %1$s set %2$s = '%3$s' || %2$s where length(%2$s) between 1 and %4$d"
                      .formatted(
                          column.table(),
                          column.name(),
                          MARKUP.replace("'", "''"),
                          column.room() - MARKUP.length()))
              .update();
      planted += changed > 0 ? 1 : 0;
    }
    return planted;
  }

  private record Column(String table, String name, int room) {}

  private static final class Visit {
    final PageClient client;
    final Set<String> pages = new HashSet<>();
    final Map<String, Integer> kinds = new HashMap<>();
    final List<String> found = new ArrayList<>();
    int showing;
    int tables;

    Visit(PageClient client) {
      this.client = client;
    }

    void all(String... starts) {
      Deque<String> next = new ArrayDeque<>(List.of(starts));
      while (!next.isEmpty() && pages.size() < MOST_PAGES) {
        String path = next.remove();
        if (!pages.add(path) || kinds.merge(kind(path), 1, Integer::sum) > MOST_OF_A_KIND) {
          continue;
        }
        HttpResponse<String> answer = client.get(path);
        String type = answer.headers().firstValue("Content-Type").orElse("");
        if (answer.statusCode() >= 500) {
          found.add(path + " is answered by " + answer.statusCode());
        }
        if (type.startsWith("text/html")) {
          look(path, answer.body());
          Matcher link = LINK.matcher(answer.body());
          while (link.find()) {
            next.add(link.group(1).replace("&amp;", "&").replace("&#39;", "'"));
          }
        } else if (type.startsWith("text/csv")) {
          tables++;
          cells(path, answer.body());
        }
      }
    }

    /** Pages of one kind differ in what stands for a thing: a number, a serial, a choice. */
    private static String kind(String path) {
      return path.replaceAll("\\?.*", "?").replaceAll("/[^/]*[\\d%][^/.?]*", "/*");
    }

    private void look(String path, String page) {
      if (page.contains("<xss-probe>")) {
        found.add("markup on " + path);
      }
      if (page.contains("\"'><xss-probe") || page.matches("(?s).*<[^>]+\\son[a-z]+=.*")) {
        found.add("attribute on " + path);
      }
      showing += page.contains("xss-probe") ? 1 : 0;
    }

    private void cells(String path, String text) {
      try (CSVParser parser = CSVParser.parse(new StringReader(text), CSVFormat.RFC4180)) {
        for (CSVRecord row : parser) {
          for (String cell : row) {
            boolean isNumber = cell.matches("[+-]?\\d+([.,]\\d+)?([eE][+-]?\\d+)?");
            if (!isNumber && cell.matches("(?s)[=+\\-@\\t\\r].*")) {
              found.add("formula in " + path + ": " + cell);
            }
          }
        }
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
