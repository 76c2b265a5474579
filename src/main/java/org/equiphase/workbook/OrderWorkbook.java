package org.equiphase.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Book.Page;
import org.equiphase.sheet.Facts;
import org.equiphase.sheet.Words;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/** Writes an order as a workbook, as it stands at one moment. */
@Service
class OrderWorkbook {

  /** Nobody leafs through more sheets than that, and each is held in memory. */
  private static final int MOST_SET_SHEETS = 200;

  private static final List<String> CAUTIONS =
      List.of("cut", "stale", "blades", "solder", "power", "torque", "first");

  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Adjustments adjustments;
  private final Readings readings;
  private final AuditLog audit;
  private final Clock clock;

  OrderWorkbook(
      WorkOrders workOrders,
      Catalog catalog,
      Adjustments adjustments,
      Readings readings,
      AuditLog audit,
      Clock clock) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.adjustments = adjustments;
    this.readings = readings;
    this.audit = audit;
    this.clock = clock;
  }

  /**
   * Writes the workbook of the order that it answers with; rows of its long sheets are read and
   * written one after the other.
   */
  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public WorkOrder write(String number, Locale locale, OutputStream out) throws IOException {
    WorkOrder order = workOrders.orderByNumber(number);
    List<Assembly> assemblies = workOrders.assembliesOf(order.id());
    List<MatchedSet> sets = workOrders.setsOf(order.id());
    Words words = new Words(locale);
    Instant now = clock.instant();
    String footer = words.text("workbook.footer", order.number(), order.revision(), words.utc(now));
    try (Book book = new Book(words)) {
      XSSFSheet summary = book.sheet(words.text("workbook.sheet.summary"));
      Map<Verdict, Integer> counts = new EnumMap<>(Verdict.class);
      InstructionSheet instructions =
          new InstructionSheet(
              book, Layout.of(order.specification(), assemblies), order.specification());
      InstructionRows rows = new InstructionRows(order, catalog);
      for (MatchedSet set : sets) {
        SetPlan plan = adjustments.plan(set.id());
        List<InstructionRow> members = new ArrayList<>();
        for (MemberPlan member : plan.members()) {
          counts.merge(member.verdict(), 1, Integer::sum);
          members.add(rows.of(plan, member));
        }
        members.forEach(instructions::add);
        if (!members.isEmpty() && sets.size() <= MOST_SET_SHEETS) {
          new SetSheet(book, set.name(), members).write(footer);
        }
      }
      for (Assembly assembly : assemblies) {
        if (assembly.setId() == null && !assembly.isGone()) {
          instructions.add(rows.loose(assembly, readings.latest(assembly.id()).orElse(null)));
        }
      }
      instructions.finish(footer);
      specification(book, order, footer);
      Histories histories = new Histories(book, order, catalog.benches());
      histories.order(audit.entries(null, "work order", order.number(), null, 200));
      for (Assembly assembly : assemblies) {
        List<Reading> taken = readings.history(assembly.id());
        histories.assembly(assembly.serial(), taken, adjustments.history(assembly.id()));
      }
      histories.finish(footer);
      summary(book, summary, order, sets.size(), assemblies, counts, footer);
      book.writeTo(out);
      return order;
    }
  }

  private void summary(
      Book book,
      XSSFSheet sheet,
      WorkOrder order,
      int sets,
      List<Assembly> assemblies,
      Map<Verdict, Integer> counts,
      String footer) {
    Words words = book.words();
    book.widths(sheet, 72, 120);
    Facts facts = new Facts(book, sheet, 0, 1);
    facts.title("workbook.title");
    facts.add("workbook.fact.order", order.number());
    facts.add("workbook.fact.revision", order.revision());
    facts.add("workbook.fact.title", order.title());
    facts.add("workbook.fact.due", order.dueOn() == null ? "" : order.dueOn().toString());
    facts.add("workbook.fact.printed", words.utc(clock.instant()));
    facts.add("workbook.fact.validity", words.text("workbook.validity"));
    facts.title("workbook.standing");
    facts.add("workbook.fact.sets", sets);
    facts.add("workbook.fact.assemblies", assemblies.size());
    counts.forEach((verdict, count) -> facts.add("workbook.verdict." + verdict.name(), count));
    if (sets > MOST_SET_SHEETS) {
      facts.add("workbook.fact.setSheets", words.text("workbook.noSetSheets", MOST_SET_SHEETS));
    }
    facts.title("workbook.fillIn");
    for (String step : List.of("1", "2", "3", "4", "5")) {
      facts.add("workbook.step." + step, words.text("workbook.stepText." + step));
    }
    facts.title("workbook.cautions");
    for (String caution : CAUTIONS) {
      facts.add("workbook.caution." + caution, words.text("workbook.cautionText." + caution));
    }
    book.print(sheet, Page.SINGLE, facts.next() - 1, 1, footer);
  }

  private void specification(Book book, WorkOrder order, String footer) {
    Words words = book.words();
    Specification s = order.specification();
    XSSFSheet sheet = book.sheet(words.text("workbook.sheet.specification"));
    book.widths(sheet, 85, 45, 40, 40, 40);
    Facts facts = new Facts(book, sheet, 0, 1);
    facts.title("workbook.sheet.specification");
    facts.add("workbook.spec.cableType", catalog.cableType(s.cableTypeId()).name());
    facts.add("workbook.spec.velocityFactor", catalog.cableType(s.cableTypeId()).velocityFactor());
    facts.add("workbook.spec.connector", s.connector());
    facts.add("workbook.spec.torqueNm", s.connectorTorqueNm());
    facts.add("workbook.spec.method", words.text("term.Method." + s.method().name()));
    facts.add("workbook.spec.basis", words.text("term.Basis." + s.basis().name()));
    facts.add("workbook.spec.turns", words.text("term.Turns." + s.turns().name()));
    facts.add("workbook.spec.lengthMm", s.nominalLengthMm());
    facts.add("workbook.spec.lengthToleranceMm", s.nominalLengthToleranceMm());
    facts.add("workbook.spec.delayNs", s.nominalDelayNs());
    facts.add("workbook.spec.allowanceMm", s.trimAllowanceMm());
    facts.add("workbook.spec.stepMm", s.cutResolutionMm());
    facts.add("workbook.spec.cutUncertaintyMm", s.cutStandardUncertaintyMm());
    facts.add("workbook.spec.tooShortLimit", s.tooShortLimit());
    Long stretcherId = s.lineStretcherId();
    if (stretcherId != null) {
      facts.add("workbook.spec.stretcher", catalog.lineStretcher(stretcherId).name());
      facts.add("workbook.spec.fittedAtMm", s.stretcherStartMm());
    }
    facts.add("workbook.spec.vswrLimit", s.vswrLimit());
    facts.add("workbook.spec.referenceC", s.referenceTemperatureC());
    facts.add("workbook.spec.lowC", s.temperatureLowC());
    facts.add("workbook.spec.highC", s.temperatureHighC());
    facts.add(
        "workbook.spec.guardFactor", s.decisionRule() == DecisionRule.SIMPLE ? 0 : s.guardFactor());
    facts.title("workbook.spec.frequencies");
    Row head = facts.row();
    List<String> heads =
        List.of("frequencyGhz", "toleranceDeg", "lossLimitDb", "lossSpreadDb", "nominalDeg");
    for (int c = 0; c < heads.size(); c++) {
      book.text(head, c, words.text("workbook.spec." + heads.get(c)), Look.HEAD);
    }
    Book.fit(head, 2);
    String quoted = "'" + sheet.getSheetName().replace("'", "''") + "'!";
    for (int k = 0; k < s.frequencies().size(); k++) {
      FrequencySpecification f = s.frequencies().get(k);
      Row row = facts.row();
      book.number(row, 0, f.frequencyHz() / 1e9, Look.QUANTITY);
      book.number(row, 1, f.toleranceDeg(), Look.QUANTITY);
      book.number(row, 2, f.insertionLossLimitDb(), Look.QUANTITY);
      book.number(row, 3, f.insertionLossSpreadDb(), Look.QUANTITY);
      book.number(row, 4, f.nominalPhaseDeg(), Look.QUANTITY);
      book.name(
          InstructionSheet.FREQUENCY_NAME.formatted(k + 1), quoted + "$A$" + (row.getRowNum() + 1));
    }
    facts.title("workbook.spec.benches");
    int first = facts.next() + 1;
    for (Bench bench : catalog.benches()) {
      book.text(facts.row(), 0, bench.name(), Look.TEXT);
    }
    int last = Math.max(first, facts.next());
    book.name(InstructionSheet.BENCHES_NAME, quoted + "$A$" + first + ":$A$" + last);
    book.print(sheet, Page.PORTRAIT, facts.next() - 1, 4, footer);
  }
}
