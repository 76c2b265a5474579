package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.nullable;

import java.io.IOException;
import java.util.List;
import org.equiphase.rf.Length;
import org.equiphase.rf.Method;
import org.equiphase.rf.SpotReading;
import org.equiphase.rf.SweepAnalysis;
import org.equiphase.rf.SweepAnalyzer;
import org.equiphase.rf.SweepSettings;
import org.equiphase.rf.VelocityFactor;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** What a sweep says of an assembly; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class SweepCalculationApi {

  record SpotAnswer(
      double frequencyHz,
      double wrappedPhaseDeg,
      @Nullable Double totalPhaseDeg,
      double insertionLossDb,
      @Nullable Double vswr,
      double residualDeg) {

    static SpotAnswer of(SpotReading spot) {
      return new SpotAnswer(
          spot.frequencyHz(),
          spot.wrappedPhaseDeg(),
          nullable(spot.totalPhaseDeg()),
          spot.insertionLossDb(),
          nullable(spot.vswr()),
          spot.residualDeg());
    }
  }

  record SweepAnswer(
      int points,
      double startHz,
      double stopHz,
      double delayNs,
      double electricalLengthM,
      double physicalLengthM,
      @Nullable Integer turns,
      double turnsConfidence,
      List<SpotAnswer> spots,
      double fitResidualDeg,
      double worstResidualHz,
      double worstResidualDeg) {}

  @PostMapping(path = "/sweep", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  SweepAnswer sweep(
      @RequestPart MultipartFile file,
      @RequestParam Method method,
      @RequestParam double velocityFactor,
      @RequestParam(defaultValue = "") List<Double> spotHz,
      @RequestParam(required = false) @Nullable Double expectedLengthM)
      throws IOException {
    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            Uploads.read(file).sweep(method),
            SweepSettings.of(method, VelocityFactor.of(velocityFactor))
                .withExpectedLength(
                    expectedLengthM == null ? null : Length.ofMetres(expectedLengthM))
                .withSpotsHz(spotHz));
    return new SweepAnswer(
        analysis.points(),
        analysis.startHz(),
        analysis.stopHz(),
        analysis.delay().seconds() * 1e9,
        analysis.electricalLength().metres(),
        analysis.physicalLength().metres(),
        analysis.turns().isPresent() ? analysis.turns().getAsInt() : null,
        analysis.turnsConfidence(),
        analysis.spots().stream().map(SpotAnswer::of).toList(),
        analysis.fitResidualDeg(),
        analysis.worstResidualHz(),
        analysis.worstResidualDeg());
  }
}
