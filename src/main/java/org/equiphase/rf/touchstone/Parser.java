package org.equiphase.rf.touchstone;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Reads one file, line by line. */
final class Parser {
  private static final int MAX_COMMENTS = 1000;

  /** Which part of the file the lines belong to. */
  private enum Part {
    HEADER,
    INFORMATION,
    NETWORK,
    NOISE,
    ENDED
  }

  private final Lines lines;
  private final ReadLimits limits;
  private final OptionalInt portsByName;
  private final Set<Keyword> seen = EnumSet.noneOf(Keyword.class);
  private final List<String> comments = new ArrayList<>();
  private final List<String> warnings = new ArrayList<>();
  private final List<Double> reference = new ArrayList<>();

  private TouchstoneVersion version = TouchstoneVersion.V1;
  private @Nullable Options options;
  private int optionLine;
  private Part part = Part.HEADER;
  private int ports;
  private boolean n21First = true;
  private int frequencies = -1;
  private int noiseFrequencies = -1;
  private MatrixFormat matrixFormat = MatrixFormat.FULL;
  private boolean referenceOpen;
  private @Nullable NetworkBlock network;
  private @Nullable NoiseBlock noise;

  Parser(Lines lines, OptionalInt portsByName, ReadLimits limits) {
    this.lines = lines;
    this.portsByName = portsByName;
    this.limits = limits;
  }

  TouchstoneFile parse() throws IOException {
    String line = lines.next();
    while (line != null) {
      takeLine(line);
      line = lines.next();
    }
    return finished();
  }

  private void takeLine(String line) {
    int mark = line.indexOf('!');
    String content = (mark < 0 ? line : line.substring(0, mark)).strip();
    if (content.isEmpty()) {
      if (mark >= 0 && network == null && comments.size() < MAX_COMMENTS) {
        comments.add(line.substring(mark + 1).strip());
      }
      return;
    }
    if (part == Part.ENDED) {
      warnOnce("what follows [End] was left out");
      return;
    }
    if (part == Part.INFORMATION) {
      if (content.toLowerCase(Locale.ROOT).startsWith("[end information]")) {
        part = Part.HEADER;
      }
      return;
    }
    requireAscii(content);
    switch (content.charAt(0)) {
      case '#' -> takeOptions(content.substring(1));
      case '[' -> takeKeyword(content);
      default -> takeData(Tokens.of(content));
    }
  }

  private void takeOptions(String text) {
    if (optionLine == 0 && network != null) {
      throw fault("option line", "must stand ahead of the data");
    }
    // Only the first option line counts; the format says to ignore others.
    if (optionLine == 0) {
      options = Options.parse(text, lines.number());
      optionLine = lines.number();
    }
    referenceOpen = false;
  }

  private Options options() {
    if (options == null) {
      options = Options.DEFAULT;
      warnings.add("no option line; GHz S MA R 50 is meant by that");
    }
    return options;
  }

  private void takeKeyword(String content) {
    int close = content.indexOf(']');
    String written = close < 0 ? content : content.substring(0, close + 1);
    Keyword keyword = Keyword.of(written);
    if (keyword == null) {
      throw fault(shortened(written), "is no keyword of the format; it has " + Keyword.list());
    }
    if (keyword != Keyword.VERSION && version == TouchstoneVersion.V1) {
      throw fault(keyword.text(), "keywords need [Version] 2.0 or 2.1 as the first line");
    }
    if (!seen.add(keyword)) {
      throw fault(keyword.text(), "stands in the file a second time");
    }
    referenceOpen = false;
    String argument = content.substring(close + 1).strip();
    if (part != Part.HEADER && keyword != Keyword.NOISE_DATA && keyword != Keyword.END) {
      throw fault(keyword.text(), "must stand ahead of the data");
    }
    switch (keyword) {
      case VERSION -> takeVersion(argument);
      case NUMBER_OF_PORTS -> takePorts(argument);
      case TWO_PORT_DATA_ORDER -> takeDataOrder(argument);
      case NUMBER_OF_FREQUENCIES ->
          frequencies =
              Numbers.parseCount(argument, lines.number(), keyword.text(), 1, limits.maxPoints());
      case NUMBER_OF_NOISE_FREQUENCIES ->
          noiseFrequencies =
              Numbers.parseCount(argument, lines.number(), keyword.text(), 1, limits.maxPoints());
      case REFERENCE -> {
        referenceOpen = true;
        takeReference(Tokens.of(argument));
      }
      case MATRIX_FORMAT -> takeMatrixFormat(argument);
      case MIXED_MODE_ORDER -> takeMixedModeOrder(argument);
      case BEGIN_INFORMATION -> part = Part.INFORMATION;
      case END_INFORMATION -> throw fault(keyword.text(), "has no [Begin Information] before it");
      case NETWORK_DATA -> beginNetwork();
      case NOISE_DATA -> beginNoise();
      case END -> part = Part.ENDED;
    }
  }

  private void takeVersion(String argument) {
    if (options != null || network != null) {
      throw fault(Keyword.VERSION.text(), "must be the first line that is no comment");
    }
    version =
        switch (argument) {
          case "2.0" -> TouchstoneVersion.V2_0;
          case "2.1" -> TouchstoneVersion.V2_1;
          default ->
              throw fault(
                  Keyword.VERSION.text(),
                  "2.0 and 2.1 are read, and version 1 without keywords, but not '"
                      + shortened(argument)
                      + "'");
        };
  }

  private void takePorts(String argument) {
    String field = Keyword.NUMBER_OF_PORTS.text();
    ports = Numbers.parseCount(argument, lines.number(), field, 1, TouchstoneReader.MAX_PORTS);
    if (portsByName.isPresent() && portsByName.getAsInt() != ports) {
      throw fault(field, "is " + ports + ", but the file's name says " + portsByName.getAsInt());
    }
  }

  private void takeDataOrder(String argument) {
    n21First =
        switch (argument) {
          case "21_12" -> true;
          case "12_21" -> false;
          default ->
              throw fault(
                  Keyword.TWO_PORT_DATA_ORDER.text(),
                  "must be 12_21 or 21_12, not '" + shortened(argument) + "'");
        };
  }

  private void takeMatrixFormat(String argument) {
    for (MatrixFormat format : MatrixFormat.values()) {
      if (format.name().equalsIgnoreCase(argument)) {
        matrixFormat = format;
        return;
      }
    }
    throw fault(
        Keyword.MATRIX_FORMAT.text(),
        "must be Full, Lower or Upper, not '" + shortened(argument) + "'");
  }

  private void takeMixedModeOrder(String argument) {
    Tokens order = Tokens.of(argument);
    for (int i = 0; i < order.size(); i++) {
      if (!order.get(i).equalsIgnoreCase("S" + (i + 1))) {
        throw fault(
            Keyword.MIXED_MODE_ORDER.text(),
            "'"
                + shortened(order.get(i))
                + "': only single-ended ports in their order are read;"
                + " convert the file to single-ended parameters");
      }
    }
  }

  private void takeReference(Tokens tokens) {
    for (int i = 0; i < tokens.size(); i++) {
      reference.add(Options.ohm(tokens.get(i), lines.number(), Keyword.REFERENCE.text()));
    }
    if (reference.size() > TouchstoneReader.MAX_PORTS) {
      throw fault(Keyword.REFERENCE.text(), "has more values than a file may have ports");
    }
  }

  private void takeData(Tokens tokens) {
    if (referenceOpen) {
      takeReference(tokens);
      return;
    }
    if (part == Part.HEADER) {
      if (version != TouchstoneVersion.V1) {
        throw fault("data", "'" + shortened(tokens.get(0)) + "' stands ahead of [Network Data]");
      }
      ports = portsByName.orElseGet(() -> portsByFirstLine(tokens));
      beginNetwork();
    }
    NetworkBlock block = network();
    if (part == Part.NETWORK && startsNoise(block, tokens)) {
      noise = new NoiseBlock(options().unit(), options().referenceOhm().get(0), limits.maxPoints());
      part = Part.NOISE;
    }
    if (part == Part.NOISE && noise != null) {
      noise.add(tokens, lines.number());
    } else {
      block.add(tokens, lines.number());
    }
  }

  /** In version 1 noise parameters begin where the frequency of a two-port falls. */
  private boolean startsNoise(NetworkBlock block, Tokens tokens) {
    return version == TouchstoneVersion.V1
        && ports == 2
        && tokens.size() == NoiseBlock.VALUES
        && block.points() > 0
        && Numbers.parseFrequencyHz(tokens.get(0), options().unit(), lines.number())
            <= block.lastFrequencyHz();
  }

  private int portsByFirstLine(Tokens tokens) {
    return switch (tokens.size()) {
      case 3 -> 1;
      case 9 -> 2;
      default ->
          throw fault(
              "data",
              "a first line of "
                  + tokens.size()
                  + " numbers is of neither one port (3) nor two"
                  + " (9); name the file .s1p, .s2p and so on");
    };
  }

  private void beginNetwork() {
    if (version != TouchstoneVersion.V1 && ports == 0) {
      throw fault(Keyword.NUMBER_OF_PORTS.text(), "is missing ahead of [Network Data]");
    }
    if (version != TouchstoneVersion.V1 && frequencies < 0) {
      throw fault(Keyword.NUMBER_OF_FREQUENCIES.text(), "is missing ahead of [Network Data]");
    }
    Options chosen = options();
    double[] ohms = referenceOhms(chosen);
    ParameterKind kind = chosen.kind();
    if ((kind == ParameterKind.H || kind == ParameterKind.G)
        && (ports != 2 || matrixFormat != MatrixFormat.FULL)) {
      throw fault("option line", kind + " parameters are of full two-port files only");
    }
    if (version == TouchstoneVersion.V1
        && kind != ParameterKind.S
        && Arrays.stream(ohms).distinct().count() > 1) {
      throw fault(
          "option line",
          kind + " parameters of version 1 are normalised to one R, so unlike ones can't be used");
    }
    if (version != TouchstoneVersion.V1
        && ports == 2
        && matrixFormat == MatrixFormat.FULL
        && !seen.contains(Keyword.TWO_PORT_DATA_ORDER)) {
      warnings.add("[Two-Port Data Order] is missing; 21_12 was taken");
    }
    boolean normalised = version == TouchstoneVersion.V1;
    network =
        new NetworkBlock(chosen, ohms, normalised, matrixFormat, n21First, limits.maxPoints());
    part = Part.NETWORK;
  }

  private double[] referenceOhms(Options chosen) {
    List<Double> given = reference.isEmpty() ? chosen.referenceOhm() : reference;
    String field = reference.isEmpty() ? "option line" : Keyword.REFERENCE.text();
    boolean one = reference.isEmpty() && given.size() == 1;
    if (!one && given.size() != ports) {
      throw fault(
          field, "has " + given.size() + " resistances, but the file is of " + ports + " ports");
    }
    double[] ohms = new double[ports];
    for (int port = 0; port < ports; port++) {
      ohms[port] = given.get(one ? 0 : port);
    }
    return ohms;
  }

  private void beginNoise() {
    if (part != Part.NETWORK) {
      throw fault(Keyword.NOISE_DATA.text(), "must follow the network data");
    }
    if (ports != 2) {
      throw fault(Keyword.NOISE_DATA.text(), "is of two-port files only");
    }
    noise = new NoiseBlock(options().unit(), 1, limits.maxPoints());
    part = Part.NOISE;
  }

  private TouchstoneFile finished() {
    if (part == Part.INFORMATION) {
      throw fault(Keyword.END_INFORMATION.text(), "is missing; the file may be cut off");
    }
    if (network == null) {
      throw fault("data", "the file holds no network data");
    }
    network.requireComplete(lines.number());
    if (network.points() == 0) {
      throw fault("data", "the file holds no network data");
    }
    int noisePoints = noise == null ? 0 : noise.points().size();
    requireCount(Keyword.NUMBER_OF_FREQUENCIES, frequencies, network.points());
    requireCount(Keyword.NUMBER_OF_NOISE_FREQUENCIES, noiseFrequencies, noisePoints);
    if (version != TouchstoneVersion.V1 && part != Part.ENDED) {
      warnings.add("[End] is missing; the file may be cut off");
    } else if (version == TouchstoneVersion.V1 && lines.lastLineOpen()) {
      warnings.add("the last line has no line end; the file may be cut off");
    }
    return new TouchstoneFile(
        version,
        options().kind(),
        network().referenceOhms(),
        network.frequenciesHz(),
        network.realParts(),
        network.imaginaryParts(),
        noise == null ? List.of() : noise.points(),
        comments,
        warnings);
  }

  private void requireCount(Keyword keyword, int announced, int found) {
    if (announced >= 0 && announced != found) {
      throw fault(
          keyword.text(),
          "is " + announced + ", but the data has " + found + "; the file may be cut off");
    }
  }

  private NetworkBlock network() {
    if (network == null) {
      throw new IllegalStateException("no network data yet");
    }
    return network;
  }

  private void requireAscii(String content) {
    for (int i = 0; i < content.length(); i++) {
      if (content.charAt(i) > '~') {
        throw fault(
            "file",
            "has a character outside ASCII at '"
                + shortened(content.substring(i))
                + "'; only comments may");
      }
    }
  }

  private void warnOnce(String warning) {
    if (!warnings.contains(warning)) {
      warnings.add(warning);
    }
  }

  private TouchstoneException fault(String field, String message) {
    return new TouchstoneException(lines.number(), field, message);
  }

  private static String shortened(String text) {
    return text.length() <= 40 ? text : text.substring(0, 40) + "…";
  }
}
