package org.equiphase.workorder;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.StringJoiner;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.sheet.TableFile;
import org.equiphase.sheet.TableFile.TableRow;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderPreview.BadCell;
import org.equiphase.workorder.OrderPreview.PlannedOrder;
import org.jspecify.annotations.Nullable;

/**
 * Orders from a table with a row per position. What concerns a whole order may stand in any of its
 * rows, but not in two ways. All that is wrong is told by row and heading.
 */
final class OrderSheet {

  private static final String ORDER = "order";
  private static final String TEMPLATE = "template";
  private static final String CABLE_TYPE = "cable_type";
  private static final String STRETCHER = "line_stretcher";
  private static final String SET = "set";
  private static final String POSITION = "position";
  private static final String SERIAL = "serial";
  private static final String MASTER = "master";

  /** Headings of what concerns a whole order, with the fields of the form that they fill. */
  private static final Map<String, String> ORDER_FIELDS = orderFields();

  /** Those of a frequency list, with the columns of the form's lines. */
  private static final Map<String, String> FREQUENCY_FIELDS = frequencyFields();

  /** Those of one position. */
  private static final Map<String, String> ROW_FIELDS = rowFields();

  private static final Pattern NUMERIC =
      Pattern.compile(".*_(mm|nm|ns|c|ps|deg|db|mhz|percent)|.*(_limit|_factor)");
  private static final Pattern GROUPED = Pattern.compile("[+\\-−]?\\d{1,3}(,\\d{3})+");

  private final TableFile file;
  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final List<BadCell> bad = new ArrayList<>();
  private final Map<String, Integer> rowOfSerial = new HashMap<>();

  private OrderSheet(TableFile file, Catalog catalog, WorkOrders workOrders) {
    this.file = file;
    this.catalog = catalog;
    this.workOrders = workOrders;
  }

  /**
   * What a file would become.
   *
   * @throws InvalidInputException where it can't be read as a table at all
   */
  static OrderPreview read(byte[] content, Catalog catalog, WorkOrders workOrders) {
    return new OrderSheet(TableFile.read(content), catalog, workOrders).preview();
  }

  /** All headings that are known, in the order of the example. */
  static List<String> headings() {
    List<String> all = new ArrayList<>();
    all.addAll(ORDER_FIELDS.keySet());
    all.addAll(FREQUENCY_FIELDS.keySet());
    all.addAll(ROW_FIELDS.keySet());
    return all;
  }

  private static Map<String, String> orderFields() {
    Map<String, String> fields = new LinkedHashMap<>();
    fields.put(ORDER, "number");
    fields.put("title", "title");
    fields.put("due", "dueOn");
    fields.put(TEMPLATE, TEMPLATE);
    fields.put(CABLE_TYPE, "cableTypeId");
    fields.put("cable_lot", "cableLot");
    fields.put("connector", "connector");
    fields.put("connector_torque_nm", "connectorTorqueNm");
    fields.put("connector_electrical_mm", "connectorElectricalMm");
    fields.put("connector_cable_mm", "connectorCableMm");
    fields.put("method", "method");
    fields.put("basis", "basis");
    fields.put("turns", "turns");
    fields.put("nominal_length_mm", "nominalLengthMm");
    fields.put("nominal_length_tolerance_mm", "nominalLengthToleranceMm");
    fields.put("nominal_delay_ns", "nominalDelayNs");
    fields.put("trim_allowance_mm", "trimAllowanceMm");
    fields.put("cut_step_mm", "cutResolutionMm");
    fields.put("cut_uncertainty_mm", "cutStandardUncertaintyMm");
    fields.put("too_short_percent", "tooShortPercent");
    fields.put(STRETCHER, "lineStretcherId");
    fields.put("stretcher_start_mm", "stretcherStartMm");
    fields.put("aim_percent", "aimPercent");
    fields.put("vswr_limit", "vswrLimit");
    fields.put("reference_temperature_c", "referenceTemperatureC");
    fields.put("temperature_low_c", "temperatureLowC");
    fields.put("temperature_high_c", "temperatureHighC");
    fields.put("decision_rule", "decisionRule");
    fields.put("guard_factor", "guardFactor");
    return Collections.unmodifiableMap(fields);
  }

  private static Map<String, String> frequencyFields() {
    Map<String, String> fields = new LinkedHashMap<>();
    fields.put("frequency_mhz", "frequencyMhz");
    fields.put("tolerance_deg", "tolerance");
    fields.put("insertion_loss_db", "insertionLoss");
    fields.put("loss_spread_db", "lossSpread");
    fields.put("nominal_phase_deg", "nominalPhase");
    return Collections.unmodifiableMap(fields);
  }

  private static Map<String, String> rowFields() {
    Map<String, String> fields = new LinkedHashMap<>();
    fields.put(SET, "set");
    fields.put(POSITION, "label");
    fields.put(SERIAL, "serial");
    fields.put("offset_phase_deg", "offsetDeg");
    fields.put("offset_delay_ps", "offsetPs");
    fields.put(MASTER, "master");
    return Collections.unmodifiableMap(fields);
  }

  private OrderPreview preview() {
    checkHeadings();
    file.refused().forEach(cell -> bad(cell.row(), cell.heading(), cell.message()));
    Map<String, List<TableRow>> groups = new LinkedHashMap<>();
    for (TableRow row : file.rows()) {
      String number = cell(row, ORDER);
      if (number.isEmpty()) {
        bad(row.number(), ORDER, Sentence.of("orderfile.noOrder"));
      } else {
        groups.computeIfAbsent(number, n -> new ArrayList<>()).add(row);
      }
      checkNumbers(row);
    }
    List<PlannedOrder> orders = new ArrayList<>();
    groups.forEach((number, rows) -> orders.add(new Group(number, rows).order()));
    return new OrderPreview(
        orders,
        bad.stream()
            .distinct()
            .sorted(
                Comparator.comparingInt(BadCell::row)
                    .thenComparingInt(cell -> file.headings().indexOf(cell.heading())))
            .toList());
  }

  /** A misspelled heading must not pass unseen: the default taken instead would move a cut. */
  private void checkHeadings() {
    List<String> known = headings();
    for (String heading : file.headings()) {
      if (!heading.isEmpty() && !known.contains(heading)) {
        throw InvalidInputException.of(
            "file", Sentence.of("orderfile.unknownHeading", heading, String.join(", ", known)));
      }
    }
    for (String needed : List.of(ORDER, "title", CABLE_TYPE, SERIAL)) {
      if (!file.headings().contains(needed)) {
        throw InvalidInputException.of("file", Sentence.of("orderfile.missingHeading", needed));
      }
    }
  }

  /** A comma that might group thousands is not guessed at. */
  private void checkNumbers(TableRow row) {
    Character separator = file.separator();
    for (String heading : file.headings()) {
      String text = cell(row, heading);
      if (!NUMERIC.matcher(heading).matches() || text.indexOf(',') < 0) {
        continue;
      }
      if (separator != null && separator == ',') {
        bad(row.number(), heading, Sentence.of("orderfile.comma", text));
      } else if (separator == null
          && Arrays.stream(text.split("\\s+")).anyMatch(t -> GROUPED.matcher(t).matches())) {
        bad(row.number(), heading, Sentence.of("orderfile.grouped", text));
      }
    }
  }

  private void bad(int row, String heading, Sentence message) {
    bad.add(new BadCell(row, heading, message));
  }

  private String cell(TableRow row, String heading) {
    int column = file.headings().indexOf(heading);
    return column < 0 ? "" : row.cells().get(column).replaceAll("\\s+", " ").strip();
  }

  /** The rows of one order. */
  private final class Group {

    private final String number;
    private final List<TableRow> rows;
    private final List<TableRow> positionRows = new ArrayList<>();
    private final List<TableRow> poolRows = new ArrayList<>();
    private final int badBefore = bad.size();

    private Group(String number, List<TableRow> rows) {
      this.number = number;
      this.rows = rows;
    }

    private PlannedOrder order() {
      OrderForm form = form();
      TypedOrder typed = form.read();
      typed.problems(workOrders).forEach(this::tell);
      serialsOnce(typed);
      return new PlannedOrder(
          rows.get(0).number(),
          number,
          form.title(),
          form.dueOn(),
          asked(CABLE_TYPE),
          bad.size() == badBefore ? typed.draft() : null);
    }

    private void serialsOnce(TypedOrder typed) {
      OrderDraft draft = typed.draft();
      for (int i = 0; i < draft.sets().size(); i++) {
        List<PositionDraft> positions = draft.sets().get(i).positions();
        for (int p = 0; p < positions.size(); p++) {
          once(
              positions.get(p).serial(), positionRows.get(typed.positionLines().get(i).get(p) - 1));
        }
      }
      for (int i = 0; i < draft.poolSerials().size(); i++) {
        once(draft.poolSerials().get(i), poolRows.get(typed.poolLines().get(i) - 1));
      }
    }

    private void once(String serial, TableRow row) {
      Integer before = rowOfSerial.putIfAbsent(serial, row.number());
      if (before != null && rows.stream().noneMatch(r -> r.number() == before)) {
        bad(row.number(), SERIAL, Sentence.of("orderfile.serialInRow", serial, before));
      }
    }

    /** Names the row and the heading of what the form calls a field. */
    private void tell(FieldProblem problem) {
      if (problem.field().equals("cableTypeId") && !asked(CABLE_TYPE).isEmpty()) {
        return; // Its name was told of already.
      }
      String[] place = problem.field().split("\\.", 3);
      if (place.length == 3 && place[0].equals("positions")) {
        TableRow row = positionRows.get(Integer.parseInt(place[1]) - 1);
        bad(row.number(), heading(ROW_FIELDS, place[2], SERIAL), problem.message());
      } else if (place.length == 3 && place[0].equals("pool")) {
        bad(poolRows.get(Integer.parseInt(place[1]) - 1).number(), SERIAL, problem.message());
      } else if (place.length == 3 && place[0].equals("frequencies")) {
        atOrder(heading(FREQUENCY_FIELDS, place[2], "frequency_mhz"), problem.message());
      } else if (problem.field().equals("frequencies")) {
        atOrder("frequency_mhz", problem.message());
      } else {
        atOrder(heading(ORDER_FIELDS, problem.field(), SERIAL), problem.message());
      }
    }

    private void atOrder(String heading, Sentence message) {
      bad(rowOf(heading).number(), heading, message);
    }

    /** The first row that says something of it, or the order's first. */
    private TableRow rowOf(String heading) {
      return rows.stream()
          .filter(row -> !cell(row, heading).isEmpty())
          .findFirst()
          .orElse(rows.get(0));
    }

    private static String heading(Map<String, String> fields, String field, String otherwise) {
      return fields.entrySet().stream()
          .filter(entry -> entry.getValue().equals(field))
          .map(Map.Entry::getKey)
          .findFirst()
          .orElse(otherwise);
    }

    /** What the order's rows say under a heading. */
    private String asked(String heading) {
      TableRow first = rowOf(heading);
      String value = cell(first, heading);
      for (TableRow row : rows) {
        String other = cell(row, heading);
        if (!other.isEmpty() && !other.equals(value)) {
          bad(
              row.number(),
              heading,
              Sentence.of("orderfile.twoValues", other, value, first.number()));
        }
      }
      return value;
    }

    private String asked(String heading, String otherwise) {
      String value = asked(heading);
      return value.isEmpty() ? otherwise : value;
    }

    private OrderForm form() {
      OrderTemplate template =
          asked(TEMPLATE).isEmpty()
              ? null
              : choice(TEMPLATE, OrderTemplate.class, OrderTemplate.WIDE_BAND);
      OrderForm base = template == null ? OrderForm.blank() : OrderForm.of(template);
      Long cableTypeId =
          named(
              CABLE_TYPE,
              catalog.cableTypes().stream()
                  .collect(Collectors.toMap(CableType::name, CableType::id)));
      return new OrderForm(
          number,
          asked("title"),
          asked("due"),
          asked("cable_lot"),
          cableTypeId == null ? 0 : cableTypeId,
          asked("connector"),
          asked("connector_torque_nm"),
          asked("connector_electrical_mm"),
          asked("connector_cable_mm"),
          choice("method", Method.class, base.method()),
          choice("basis", Basis.class, base.basis()),
          choice("turns", Turns.class, base.turns()),
          asked("nominal_length_mm"),
          asked("nominal_length_tolerance_mm"),
          asked("nominal_delay_ns"),
          asked("trim_allowance_mm", base.trimAllowanceMm()),
          asked("cut_step_mm", base.cutResolutionMm()),
          asked("cut_uncertainty_mm"),
          asked("too_short_percent", base.tooShortPercent()),
          named(
              STRETCHER,
              catalog.lineStretchers().stream()
                  .collect(Collectors.toMap(LineStretcher::name, LineStretcher::id))),
          asked("stretcher_start_mm"),
          asked("aim_percent", base.aimPercent()),
          asked("vswr_limit"),
          asked("reference_temperature_c", base.referenceTemperatureC()),
          asked("temperature_low_c"),
          asked("temperature_high_c"),
          choice("decision_rule", DecisionRule.class, base.decisionRule()),
          asked("guard_factor", base.guardFactor()),
          frequencyLines(),
          positionLines(),
          "",
          poolRows.stream().map(row -> cell(row, SERIAL)).collect(Collectors.joining("\n")));
    }

    private <E extends Enum<E>> E choice(String heading, Class<E> type, E otherwise) {
      String value = asked(heading);
      if (value.isEmpty()) {
        return otherwise;
      }
      String name = value.toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
      for (E constant : EnumSet.allOf(type)) {
        if (constant.name().equals(name)) {
          return constant;
        }
      }
      atOrder(
          heading,
          Sentence.of(
              "orderfile.choice",
              value,
              EnumSet.allOf(type).stream().map(Enum::name).collect(Collectors.joining(", "))));
      return otherwise;
    }

    private @Nullable Long named(String heading, Map<String, Long> catalogIds) {
      String name = asked(heading);
      if (name.isEmpty()) {
        return null;
      }
      Long id = catalogIds.get(name);
      if (id == null) {
        String known = catalogIds.keySet().stream().sorted().collect(Collectors.joining(", "));
        atOrder(heading, Sentence.of("orderfile.notInCatalog", name, known));
      }
      return id;
    }

    /** Lists of numbers with space between them; one number of the others holds for all. */
    private String frequencyLines() {
      List<List<String>> columns = new ArrayList<>();
      List<String> headings = List.copyOf(FREQUENCY_FIELDS.keySet());
      for (String heading : headings) {
        String value = asked(heading);
        columns.add(value.isEmpty() ? List.of() : List.of(value.split(" ")));
      }
      int count = columns.get(0).size();
      for (int c = 1; c < columns.size(); c++) {
        int size = columns.get(c).size();
        if (size > 1 && size != count) {
          atOrder(headings.get(c), Sentence.of("orderfile.listLength", size, count));
        }
      }
      StringJoiner lines = new StringJoiner("\n");
      for (int k = 0; k < count; k++) {
        int at = k;
        lines.add(
            columns.stream()
                .map(c -> c.size() == 1 ? c.get(0) : at < c.size() ? c.get(at) : "")
                .collect(Collectors.joining("\t")));
      }
      return lines.toString();
    }

    private String positionLines() {
      StringJoiner lines = new StringJoiner("\n");
      for (TableRow row : rows) {
        if (cell(row, SET).isEmpty() && cell(row, POSITION).isEmpty()) {
          if (cell(row, SERIAL).isEmpty()) {
            bad(row.number(), SERIAL, Sentence.of("orderfile.missing"));
          } else {
            poolRows.add(row);
          }
          continue;
        }
        positionRows.add(row);
        StringJoiner line = new StringJoiner("\t");
        ROW_FIELDS.keySet().stream().limit(5).forEach(heading -> line.add(cell(row, heading)));
        lines.add(line.add(master(row)).toString());
      }
      return lines.toString();
    }

    private String master(TableRow row) {
      String text = cell(row, MASTER).toLowerCase(Locale.ROOT);
      return switch (text) {
        case "", "no", "false" -> "";
        case "master", "yes", "true", "x" -> "master";
        default -> {
          bad(row.number(), MASTER, Sentence.of("orderfile.choice", text, "yes, no"));
          yield "";
        }
      };
    }
  }
}
