package org.equiphase.audit;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.equiphase.sheet.Table;
import org.jspecify.annotations.Nullable;

/** Entries as CSV (RFC 4180) in UTF-8. */
final class CsvExport implements AutoCloseable {

  /** Stands for the action in the last row, which is no entry: where the chain ended. */
  static final String END = "CHAIN_END";

  private final CSVPrinter printer;

  CsvExport(OutputStream out) throws IOException {
    printer =
        new CSVPrinter(
            new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8)),
            CSVFormat.RFC4180);
    printer.printRecord(
        "id",
        "at",
        "actor",
        "action",
        "subject_type",
        "subject_key",
        "details",
        "previous_hash",
        "hash");
  }

  void add(AuditEntry entry) {
    print(
        entry.id(),
        entry.at(),
        Table.guarded(entry.actor()),
        Table.guarded(entry.action()),
        Table.guarded(entry.subjectType()),
        Table.guarded(entry.subjectKey()),
        Table.guarded(entry.details()),
        entry.previousHash(),
        entry.hash());
  }

  void end(ChainEnd end) {
    print(end.id(), null, null, END, null, null, null, null, end.hash());
  }

  private void print(@Nullable Object... values) {
    try {
      printer.printRecord(values);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() throws IOException {
    printer.close();
  }
}
