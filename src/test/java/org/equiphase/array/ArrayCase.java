package org.equiphase.array;

import java.util.List;
import java.util.stream.Stream;
import org.equiphase.rf.CsvRows;

/** A solved array of src/test/resources/array; see the README there. */
public record ArrayCase(CsvRows.Row expected, double[] taper, double[] phaseErrorDeg) {

  public static Stream<ArrayCase> all() {
    List<CsvRows.Row> channels = CsvRows.of("/array/channels.csv").toList();
    return CsvRows.of("/array/expected.csv")
        .map(
            row -> {
              List<CsvRows.Row> own =
                  channels.stream().filter(c -> c.text("case").equals(row.text("case"))).toList();
              return new ArrayCase(
                  row,
                  own.stream().mapToDouble(c -> c.number("amplitude")).toArray(),
                  own.stream().mapToDouble(c -> c.number("phase_error_deg")).toArray());
            });
  }

  @Override
  public String toString() {
    return expected.text("case") + " " + expected.text("taper");
  }
}
