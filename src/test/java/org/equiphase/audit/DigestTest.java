package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;

/** Hashes against their documented bytes. */
class DigestTest {

  private static final AuditEntry ENTRY =
      AuditEntry.chained(
          7,
          Instant.parse("2026-01-02T03:04:05.678901234Z"),
          "qa",
          "TESTED",
          "test",
          "Müller",
          "{\"a\":1}",
          "0".repeat(64));

  /** Value printed by {@code sha256sum} (GNU coreutils) for a file with exactly these bytes. */
  @Test
  void anEntryHashesAsATableOfItsFieldsWithTheirLengths() throws Exception {
    byte[] bytes =
        ("1:7"
                + "27:2026-01-02T03:04:05.678901Z"
                + "2:qa"
                + "6:TESTED"
                + "4:test"
                + "7:Müller"
                + "7:{\"a\":1}"
                + "64:0000000000000000000000000000000000000000000000000000000000000000")
            .getBytes(StandardCharsets.UTF_8);
    String recomputed =
        HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));

    assertThat(recomputed)
        .isEqualTo("5b493c53070a331a0147052858d68f3cc6d7847d7784d9f78e350f84d60ef7a7");
    assertThat(ENTRY.hash()).isEqualTo(recomputed);
    assertThat(ENTRY.isIntact()).isTrue();
    assertThat(ENTRY.isIntactAs(8)).isFalse();
  }

  /** One tenth is 0x1.999999999999ap-4 in IEEE 754 binary64; {@code sha256sum} as above. */
  @Test
  void aNumberGoesInExactlyAndAMissingOneAsAMinus() {
    assertThat(new Digest().number(0.1).number(null).hex())
        .isEqualTo("944d16fe375bf92341c27a3a67a27609fe0f043abf25537bb3d39b075b5eb712");
    assertThat(new Digest().number(-0.0).hex()).isEqualTo(new Digest().number(0.0).hex());
    assertThat(new Digest().number(0.1 + 0.2).hex()).isNotEqualTo(new Digest().number(0.3).hex());
  }

  @Test
  void textCannotMoveBetweenFields() {
    assertThat(new Digest().text("ab").text("c").hex())
        .isNotEqualTo(new Digest().text("a").text("bc").hex());
    assertThat(new Digest().text("").hex()).isNotEqualTo(new Digest().text(null).hex());
    assertThat(new Digest().text("1:a").hex()).isNotEqualTo(new Digest().text("a").hex());
  }
}
