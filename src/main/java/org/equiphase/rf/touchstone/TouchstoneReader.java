package org.equiphase.rf.touchstone;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads Touchstone files of the versions 1.0, 1.1, 2.0 and 2.1 (IBIS Open Forum), of up to {@value
 * #MAX_PORTS} ports, in one pass. It is strict about numbers and lenient about form: what it puts
 * up with stands in {@link TouchstoneFile#warnings()}.
 */
public final class TouchstoneReader {
  /** Most ports that are read or written. */
  public static final int MAX_PORTS = 16;

  private static final Pattern PORTS_IN_NAME =
      Pattern.compile("\\.s(\\d{1,3})p$", Pattern.CASE_INSENSITIVE);

  private TouchstoneReader() {}

  /**
   * Reads a file. Bytes beyond ASCII may stand in comments only.
   *
   * @param ports number of ports by the file's name, which version 1 doesn't say; empty to tell one
   *     from two ports by the first line of data
   * @throws TouchstoneException for a file that is malformed or passes a limit
   * @throws IOException if the stream fails
   */
  public static TouchstoneFile read(InputStream stream, OptionalInt ports, ReadLimits limits)
      throws IOException {
    return read(new InputStreamReader(stream, StandardCharsets.ISO_8859_1), ports, limits);
  }

  /**
   * Reads a file as text.
   *
   * @see #read(InputStream, OptionalInt, ReadLimits)
   */
  public static TouchstoneFile read(Reader reader, OptionalInt ports, ReadLimits limits)
      throws IOException {
    if (ports.isPresent() && (ports.getAsInt() < 1 || ports.getAsInt() > MAX_PORTS)) {
      throw new TouchstoneException(
          0,
          "file name",
          "files of 1 to " + MAX_PORTS + " ports are read, not of " + ports.getAsInt());
    }
    return new Parser(new Lines(reader, limits), ports, limits).parse();
  }

  /**
   * Number of ports by the ending of a file's name: 2 for {@code .s2p}; empty for an ending that
   * doesn't say, as {@code .ts}.
   */
  public static OptionalInt portsOfFileName(String fileName) {
    Matcher matcher = PORTS_IN_NAME.matcher(fileName);
    return matcher.find()
        ? OptionalInt.of(Integer.parseInt(matcher.group(1)))
        : OptionalInt.empty();
  }
}
