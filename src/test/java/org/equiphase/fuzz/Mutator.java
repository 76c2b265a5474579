package org.equiphase.fuzz;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/** Makes broken files out of good ones; the same seed makes the same ones. */
final class Mutator {

  /** Numbers and signs at which readers stumble, whatever the format. */
  private static final List<String> USUAL =
      List.of(
          "0",
          "-0",
          "-1",
          "1e999",
          "-1e999",
          "1e-999",
          "NaN",
          "Infinity",
          "0x10",
          "1_0",
          "1,5",
          "9".repeat(400),
          "2147483648",
          "-2147483649",
          "9223372036854775808",
          "1e308",
          "4.9e-324",
          "",
          " ",
          "\t",
          "\n",
          "\r\n",
          "\r",
          "\u0000",
          "\uFEFF",
          "\u00A0",
          "\u2028",
          "é",
          "\uD83D\uDE00",
          "\"",
          "'",
          ",",
          ";",
          "%",
          "{",
          "}",
          "<",
          "&",
          "\\",
          "${x}",
          "../",
          "=1+1");

  private final Random random;
  private final List<byte[]> good;
  private final List<String> words;
  private final int longest;

  /**
   * @param words of the format
   * @param longest no file is longer, bytes
   */
  Mutator(long seed, List<byte[]> good, List<String> words, int longest) {
    random = new Random(seed);
    this.good = good;
    this.words = words;
    this.longest = longest;
  }

  byte[] next() {
    byte[] file = one(good).clone();
    int changes = 1 << random.nextInt(6);
    for (int i = 0; i < changes; i++) {
      file = changed(file);
    }
    return file.length > longest ? Arrays.copyOf(file, longest) : file;
  }

  private byte[] changed(byte[] file) {
    int at = random.nextInt(file.length + 1);
    int to = Math.min(file.length, at + random.nextInt(1 << random.nextInt(10)));
    return switch (random.nextInt(9)) {
      case 0 -> spliced(file, at, at, bytes(one(USUAL)));
      case 1 -> spliced(file, at, to, bytes(one(USUAL)));
      case 2, 3 -> spliced(file, at, random.nextBoolean() ? at : to, bytes(one(words)));
      case 4 -> spliced(file, at, to, new byte[0]);
      case 5 -> spliced(file, at, at, repeated(Arrays.copyOfRange(file, at, to)));
      case 6 -> {
        byte[] other = one(good);
        int from = random.nextInt(other.length + 1);
        int end = Math.min(other.length, from + random.nextInt(2000));
        yield spliced(file, at, to, Arrays.copyOfRange(other, from, end));
      }
      case 7 -> random.nextInt(20) == 0 ? Arrays.copyOf(file, at) : file;
      default -> {
        if (at < file.length) {
          file[at] ^= (byte) (1 << random.nextInt(8));
        }
        yield file;
      }
    };
  }

  private byte[] repeated(byte[] part) {
    int times = 1 + random.nextInt(1 << random.nextInt(12));
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    for (int i = 0; i < times && out.size() < longest; i++) {
      out.writeBytes(part);
    }
    return out.toByteArray();
  }

  private static byte[] spliced(byte[] file, int from, int to, byte[] between) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(file, 0, from);
    out.writeBytes(between);
    out.write(file, to, file.length - to);
    return out.toByteArray();
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private <T> T one(List<T> several) {
    return several.get(random.nextInt(several.size()));
  }
}
