package org.equiphase.gauge;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Gauge studies for machine clients. */
@RestController
@RequestMapping("/api/v1")
class StudyApi {

  private final Studies studies;

  StudyApi(Studies studies) {
    this.studies = studies;
  }

  record Value(@Nullable String serial, @Nullable Double phaseDeg) {}

  record Reason(@Nullable Integer version, @Nullable String reason) {}

  /** The part to connect next; null when the asker has none left. */
  record Next(@Nullable String serial, int left) {}

  @GetMapping("/gauge-studies")
  List<Study> studies() {
    return studies.latest();
  }

  @PostMapping("/gauge-studies")
  @ResponseStatus(HttpStatus.CREATED)
  Study plan(@RequestBody StudyDraft draft) {
    return studies.plan(draft);
  }

  @GetMapping("/gauge-studies/{id}")
  Study study(@PathVariable long id) {
    return studies.study(id);
  }

  @GetMapping("/gauge-studies/{id}/values")
  List<StudyValue> values(@PathVariable long id) {
    return studies.values(id);
  }

  /** Null before the last value is taken. */
  @GetMapping("/gauge-studies/{id}/analysis")
  @Nullable Analysis analysis(@PathVariable long id) {
    Study study = studies.study(id);
    return study.state() == Study.State.COMPLETE ? Analysis.of(study, studies.values(id)) : null;
  }

  @PostMapping("/gauge-studies/{id}/cancel")
  Study cancel(@PathVariable long id, @RequestBody Reason request) {
    return studies.cancel(
        id, present("version", request.version), present("reason", request.reason));
  }

  @GetMapping("/bench/gauge/{id}/next")
  Next next(@PathVariable long id) {
    Study study = studies.study(id);
    return new Next(
        studies.next(study).map(turn -> study.parts().get(turn.part())).orElse(null),
        studies.left(study));
  }

  @PostMapping("/bench/gauge/{id}/values")
  Study record(@PathVariable long id, @RequestBody Value value) {
    return studies.record(id, present("serial", value.serial), present("phaseDeg", value.phaseDeg));
  }

  @PostMapping("/bench/gauge/{id}/strike")
  Study strike(@PathVariable long id, @RequestBody Reason request) {
    return studies.strike(id, present("reason", request.reason));
  }
}
