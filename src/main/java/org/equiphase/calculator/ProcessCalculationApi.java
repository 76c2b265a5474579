package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import org.equiphase.metrology.Capability;
import org.equiphase.metrology.IndividualsChart;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Control charts and capability of a process; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class ProcessCalculationApi {

  /** Baseline count null: the limits come from all values. */
  record ChartRequest(double @Nullable [] values, @Nullable Integer baselineCount) {}

  /** Individuals and moving range with their limits, and the run-rule patterns. */
  @PostMapping("/control-chart")
  IndividualsChart controlChart(@RequestBody ChartRequest request) {
    double[] values = present("values", request.values);
    return request.baselineCount == null
        ? IndividualsChart.of(values)
        : IndividualsChart.of(values, request.baselineCount);
  }

  /** Either the values, or their mean, standard deviation and count. Target null: the middle. */
  record CapabilityRequest(
      double @Nullable [] values,
      @Nullable Double mean,
      @Nullable Double standardDeviation,
      @Nullable Integer count,
      @Nullable Double lower,
      @Nullable Double upper,
      @Nullable Double target,
      @Nullable Double confidence) {}

  /** Capability indices with the bounds of their true values. */
  @PostMapping("/capability")
  Capability capability(@RequestBody CapabilityRequest request) {
    double confidence = present("confidence", request.confidence);
    if (request.values == null) {
      return Capability.of(
          present("mean", request.mean),
          present("standardDeviation", request.standardDeviation),
          present("count", request.count),
          request.lower,
          request.upper,
          request.target,
          confidence);
    }
    if (request.mean != null || request.standardDeviation != null || request.count != null) {
      throw InvalidInputException.of(
          "values", "can't go with mean, standardDeviation and count; give one or the other");
    }
    return Capability.ofValues(
        request.values, request.lower, request.upper, request.target, confidence);
  }
}
