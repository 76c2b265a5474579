package org.equiphase.bench;

import java.util.List;
import org.springframework.util.MultiValueMap;

/** What was typed, kept when it is refused. */
public record BenchForm(
    String temperatureC, List<String> phaseDeg, List<String> lossDb, List<String> vswr) {

  static final BenchForm EMPTY = new BenchForm("", List.of(), List.of(), List.of());

  public BenchForm {
    phaseDeg = List.copyOf(phaseDeg);
    lossDb = List.copyOf(lossDb);
    vswr = List.copyOf(vswr);
  }

  /** From the request's own values: a decimal comma is no separator of two values. */
  static BenchForm of(MultiValueMap<String, String> typed) {
    String temperatureC = typed.getFirst("temperatureC");
    return new BenchForm(
        temperatureC == null ? "" : temperatureC,
        typed.getOrDefault("phaseDeg", List.of()),
        typed.getOrDefault("lossDb", List.of()),
        typed.getOrDefault("vswr", List.of()));
  }

  public String phase(int k) {
    return at(phaseDeg, k);
  }

  public String loss(int k) {
    return at(lossDb, k);
  }

  public String vswrAt(int k) {
    return at(vswr, k);
  }

  private static String at(List<String> values, int k) {
    return k < values.size() ? values.get(k) : "";
  }
}
