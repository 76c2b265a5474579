package org.equiphase.demo;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.springframework.core.io.ClassPathResource;

/** The files of demo-data, as packaged. */
final class DemoFiles {

  private static final CSVFormat WITH_HEADER =
      CSVFormat.DEFAULT.builder().setHeader().setSkipHeaderRecord(true).get();

  private DemoFiles() {}

  static byte[] bytes(String name) {
    try {
      return resource(name).getContentAsByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static List<CSVRecord> table(String name) {
    try (Reader reader =
        new InputStreamReader(resource(name).getInputStream(), StandardCharsets.UTF_8)) {
      return WITH_HEADER.parse(reader).getRecords();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static double number(CSVRecord row, String column) {
    return Double.parseDouble(row.get(column));
  }

  /** Names or points, separated by semicolons. */
  static List<String> list(CSVRecord row, String column) {
    String text = row.get(column);
    return text.isEmpty() ? List.of() : List.of(text.split("; "));
  }

  /** Points such as "20: 40; 25: 0". */
  static List<double[]> points(CSVRecord row, String column) {
    List<double[]> points = new ArrayList<>();
    for (String point : list(row, column)) {
      String[] pair = point.split(": ", -1);
      points.add(new double[] {Double.parseDouble(pair[0]), Double.parseDouble(pair[1])});
    }
    return points;
  }

  private static ClassPathResource resource(String name) {
    return new ClassPathResource("demo-data/" + name);
  }
}
