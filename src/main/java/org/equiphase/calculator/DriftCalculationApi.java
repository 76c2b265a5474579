package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.calculator.Fields.located;
import static org.equiphase.web.Require.present;

import java.time.Instant;
import java.util.List;
import org.equiphase.metrology.DriftAt;
import org.equiphase.metrology.DriftCheck;
import org.equiphase.metrology.DriftLine;
import org.equiphase.rf.Frequency;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Drift between reference-cable checks, taken off readings; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class DriftCalculationApi {

  record CheckRequest(@Nullable Instant at, @Nullable Double phaseDeg) {}

  record ReadingRequest(
      @Nullable Instant at, @Nullable Double frequencyHz, @Nullable Double phaseDeg) {}

  /** The frequency is that of the checks; a reading may have another. */
  record DriftRequest(
      @Nullable Double frequencyHz,
      @Nullable Double baselinePhaseDeg,
      @Nullable Double driftLimitDeg,
      @Nullable List<CheckRequest> checks,
      @Nullable List<ReadingRequest> readings) {}

  record ReadingAnswer(
      Instant at,
      double frequencyHz,
      double driftDeg,
      double correctedPhaseDeg,
      DriftCheck before,
      @Nullable DriftCheck after,
      boolean bracketed,
      double changeDeg,
      boolean beyondLimit,
      double residualStandardUncertaintyDeg) {}

  record DriftAnswer(List<ReadingAnswer> readings) {}

  /** Each reading less the drift at its time, and whether the checks around it hold it back. */
  @PostMapping("/drift")
  DriftAnswer drift(@RequestBody DriftRequest request) {
    Frequency checked = Frequency.ofHertz(present("frequencyHz", request.frequencyHz));
    DriftLine line =
        new DriftLine(
            present("baselinePhaseDeg", request.baselinePhaseDeg),
            present("driftLimitDeg", request.driftLimitDeg),
            indexed("checks", present("checks", request.checks), DriftCalculationApi::check));
    return new DriftAnswer(
        indexed(
            "readings",
            present("readings", request.readings),
            (at, reading) -> corrected(at, reading, line, checked)));
  }

  private static DriftCheck check(String at, CheckRequest check) {
    return new DriftCheck(present(at + ".at", check.at), present(at + ".phaseDeg", check.phaseDeg));
  }

  private static ReadingAnswer corrected(
      String at, ReadingRequest reading, DriftLine line, Frequency checked) {
    Instant taken = present(at + ".at", reading.at);
    double hertz = present(at + ".frequencyHz", reading.frequencyHz);
    double phaseDeg = present(at + ".phaseDeg", reading.phaseDeg);
    Frequency wanted = located(at, () -> Frequency.ofHertz(hertz));
    DriftAt drift =
        line.at(taken)
            .orElseThrow(
                () ->
                    InvalidInputException.of(
                        at + ".at", "lies before the first check, where the drift is not known"))
            .atFrequency(checked, wanted);
    return new ReadingAnswer(
        taken,
        hertz,
        drift.driftDeg(),
        phaseDeg - drift.driftDeg(),
        drift.before(),
        drift.after(),
        drift.bracketed(),
        drift.changeDeg(),
        drift.beyondLimit(),
        drift.residualStandardUncertaintyDeg());
  }
}
