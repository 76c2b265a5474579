package org.equiphase.demo;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.equiphase.rf.Complex;

/**
 * What the simulated analyzer understands. Headers may be in long or short form, in capitals or
 * not, and one that follows a semicolon starts where the one before it ended (SCPI-99, volume 1,
 * 6.2.4). What it does not understand goes into its error queue, with the numbers and texts of
 * SCPI-99, volume 2, SYSTem:ERRor.
 */
final class SimulatedAnalyzerCommands {

  private static final byte[] NOTHING = {};
  private static final int MOST_POINTS = 20_001;
  private static final int QUEUE_LENGTH = 20;
  private static final Map<Integer, String> ERRORS =
      Map.of(
          -108, "Parameter not allowed",
          -109, "Missing parameter",
          -113, "Undefined header",
          -213, "Init ignored",
          -221, "Settings conflict",
          -222, "Data out of range",
          -224, "Illegal parameter value",
          -230, "Data corrupt or stale",
          -310, "System error",
          -350, "Queue overflow");

  private final Map<Pattern, Function<String, byte[]>> commands = new LinkedHashMap<>();
  private final Deque<Integer> queue = new ArrayDeque<>();
  private SimulatedAnalyzer.Device device = (parameter, frequencyHz) -> Complex.of(1e-5, 0);
  private double startHz = 1e9;
  private double stopHz = 2e9;
  private int points = 201;
  private boolean logarithmic;
  private boolean continuous = true;
  private String function = "S21";
  private String format = "MLOG";
  private String data = "ASC";
  private boolean swapped;
  private int status;
  private List<Complex> trace = List.of();

  /** An error to be queued; the command has no effect then. */
  private static final class Refusal extends RuntimeException {
    private final int number;

    Refusal(int number) {
      this.number = number;
    }
  }

  SimulatedAnalyzerCommands() {
    command("*IDN?", none -> text("Invented Shop,Simulated analyzer,0001,1.0"));
    command("*CLS", none -> done(this::clear));
    command("*OPC?", none -> text("1"));
    command("*ESR?", none -> readStatus());
    command("SYSTem:ERRor[:NEXT]?", none -> nextError());
    command("INITiate:CONTinuous", value -> done(() -> continuous = isOn(value)));
    command("INITiate:CONTinuous?", none -> text(continuous ? "1" : "0"));
    command("INITiate[:IMMediate]", none -> done(this::sweep));
    command("[SENSe:]FREQuency:STARt", value -> done(() -> startHz = hertz(value)));
    command("[SENSe:]FREQuency:STARt?", none -> text(real(startHz)));
    command("[SENSe:]FREQuency:STOP", value -> done(() -> stopHz = hertz(value)));
    command("[SENSe:]FREQuency:STOP?", none -> text(real(stopHz)));
    command("[SENSe:]SWEep:POINts", value -> done(() -> points = count(value)));
    command("[SENSe:]SWEep:POINts?", none -> text("" + points));
    command(
        "[SENSe:]SWEep:SPACing",
        value -> done(() -> logarithmic = one(value, "LINear", "LOGarithmic").equals("LOG")));
    command("[SENSe:]SWEep:SPACing?", none -> text(logarithmic ? "LOG" : "LIN"));
    command("[SENSe:]FUNCtion[:ON]", value -> done(() -> function = function(value)));
    command("[SENSe:]FUNCtion[:ON]?", none -> text("\"XFR:POW:" + function + "\""));
    command(
        "CALCulate:FORMat",
        value -> done(() -> format = one(value, "MLOGarithmic", "REAL", "IMAGinary", "COMPlex")));
    command("CALCulate:FORMat?", none -> text(format));
    command("CALCulate:DATA?", none -> packed(calculated()));
    command(
        "FORMat[:DATA]",
        value -> done(() -> data = one(value.replace(" ", ""), "ASCii", "REAL,32", "REAL,64")));
    command("FORMat[:DATA]?", none -> text(data));
    command(
        "FORMat:BORDer",
        value -> done(() -> swapped = one(value, "NORMal", "SWAPped").equals("SWAP")));
    command("FORMat:BORDer?", none -> text(swapped ? "SWAP" : "NORM"));
  }

  synchronized void connect(
      SimulatedAnalyzer.Device device, double startHz, double stopHz, int points) {
    this.device = device;
    this.startHz = startHz;
    this.stopHz = stopHz;
    this.points = points;
    this.trace = List.of();
  }

  synchronized void report(int error) {
    if (queue.size() == QUEUE_LENGTH) {
      queue.removeLast();
      queue.add(-350);
    } else {
      queue.add(error);
    }
    status |= 1 << (error > -200 ? 5 : error > -300 ? 4 : error > -400 ? 3 : 2);
  }

  /** The answers of one program message, ended by a newline; nothing where it asks nothing. */
  synchronized byte[] answer(String message) {
    ByteArrayOutputStream answers = new ByteArrayOutputStream();
    String path = "";
    for (String unit : message.split(";(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1)) {
      String[] parts = unit.strip().split("\\s+", 2);
      String header = parts[0];
      if (header.startsWith(":")) {
        header = header.substring(1);
      } else if (!header.startsWith("*")) {
        header = path + header;
      }
      byte[] answer = answer(header, parts.length == 2 ? parts[1].strip() : "");
      if (answer.length > 0) {
        if (answers.size() > 0) {
          answers.write(';');
        }
        answers.writeBytes(answer);
      }
      if (!header.startsWith("*")) {
        path = header.substring(0, header.lastIndexOf(':') + 1);
      }
    }
    if (answers.size() > 0) {
      answers.write('\n');
    }
    return answers.toByteArray();
  }

  private byte[] answer(String header, String parameter) {
    try {
      for (Map.Entry<Pattern, Function<String, byte[]>> command : commands.entrySet()) {
        if (command.getKey().matcher(header).matches()) {
          if (header.endsWith("?") && !parameter.isEmpty()) {
            throw new Refusal(-108);
          }
          return command.getValue().apply(parameter);
        }
      }
      throw new Refusal(header.isEmpty() ? -109 : -113);
    } catch (Refusal refusal) {
      report(refusal.number);
      return NOTHING;
    }
  }

  private void command(String notation, Function<String, byte[]> work) {
    commands.put(pattern(notation), work);
  }

  /** The notation of SCPI: capitals are the short form, brackets hold what may be left out. */
  private static Pattern pattern(String notation) {
    Matcher parts = Pattern.compile("([A-Z]+)([a-z]*)|[\\[\\]*?:]|[,0-9]+").matcher(notation);
    StringBuilder pattern = new StringBuilder();
    while (parts.find()) {
      if (parts.group(1) != null) {
        pattern.append(parts.group(1)).append("(?:").append(parts.group(2)).append(")?1?");
      } else {
        pattern.append(
            switch (parts.group()) {
              case "[" -> "(?:";
              case "]" -> ")?";
              default -> Pattern.quote(parts.group());
            });
      }
    }
    return Pattern.compile(pattern.toString(), Pattern.CASE_INSENSITIVE);
  }

  private static byte[] done(Runnable work) {
    work.run();
    return NOTHING;
  }

  private static byte[] text(String text) {
    return text.getBytes(StandardCharsets.US_ASCII);
  }

  private void clear() {
    queue.clear();
    status = 0;
  }

  private byte[] readStatus() {
    int was = status;
    status = 0;
    return text("" + was);
  }

  private byte[] nextError() {
    Integer number = queue.poll();
    return text(
        number == null
            ? "0,\"No error\""
            : number + ",\"" + ERRORS.getOrDefault(number, "Unknown") + "\"");
  }

  private void sweep() {
    if (continuous) {
      throw new Refusal(-213);
    }
    List<Complex> fresh = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double share = (double) i / (points - 1);
      double frequencyHz =
          logarithmic
              ? startHz * Math.pow(stopHz / startHz, share)
              : startHz + (stopHz - startHz) * share;
      fresh.add(device.measured(function, frequencyHz));
    }
    trace = fresh;
  }

  private List<Double> calculated() {
    if (trace.isEmpty()) {
      throw new Refusal(-230);
    }
    List<Double> values = new ArrayList<>();
    for (Complex value : trace) {
      switch (format) {
        case "COMP" -> {
          values.add(value.re());
          values.add(value.im());
        }
        case "REAL" -> values.add(value.re());
        case "IMAG" -> values.add(value.im());
        default -> values.add(20 * Math.log10(value.abs()));
      }
    }
    return values;
  }

  private byte[] packed(List<Double> values) {
    if (data.equals("ASC")) {
      return text(
          values.stream().map(SimulatedAnalyzerCommands::real).collect(Collectors.joining(",")));
    }
    int size = data.equals("REAL,32") ? Float.BYTES : Double.BYTES;
    ByteBuffer block =
        ByteBuffer.allocate(values.size() * size)
            .order(swapped ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
    for (double value : values) {
      if (size == Float.BYTES) {
        block.putFloat((float) value);
      } else {
        block.putDouble(value);
      }
    }
    String length = "" + block.capacity();
    ByteArrayOutputStream answer = new ByteArrayOutputStream();
    answer.writeBytes(text("#" + length.length() + length));
    answer.writeBytes(block.array());
    return answer.toByteArray();
  }

  private static String real(double value) {
    return String.format(Locale.ROOT, "%.11E", value);
  }

  private static boolean isOn(String value) {
    return switch (value.toUpperCase(Locale.ROOT)) {
      case "ON", "1" -> true;
      case "OFF", "0" -> false;
      default -> throw new Refusal(value.isEmpty() ? -109 : -224);
    };
  }

  private static double hertz(String value) {
    double hertz = number(value);
    if (!(hertz >= 1e5 && hertz <= 110e9)) {
      throw new Refusal(-222);
    }
    return hertz;
  }

  private static int count(String value) {
    double count = number(value);
    if (!(count >= 2 && count <= MOST_POINTS)) {
      throw new Refusal(-222);
    }
    return (int) Math.rint(count);
  }

  private static double number(String value) {
    try {
      return Double.parseDouble(value);
    } catch (NumberFormatException e) {
      throw new Refusal(value.isEmpty() ? -109 : -224);
    }
  }

  /** The short form of the choice that was made. */
  private static String one(String value, String... choices) {
    for (String choice : choices) {
      if (pattern(choice).matcher(value).matches()) {
        return choice.replaceAll("[a-z]", "");
      }
    }
    throw new Refusal(value.isEmpty() ? -109 : -224);
  }

  private static String function(String value) {
    Matcher function =
        Pattern.compile(
                "[\"']XFR(?:EQUENCY)?:POW(?:ER)?:(S[12][12])[\"']", Pattern.CASE_INSENSITIVE)
            .matcher(value);
    if (!function.matches()) {
      throw new Refusal(value.isEmpty() ? -109 : -224);
    }
    return function.group(1).toUpperCase(Locale.ROOT);
  }
}
