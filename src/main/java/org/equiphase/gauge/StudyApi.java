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

  record Value(@Nullable Integer turn, @Nullable String serial, @Nullable Double phaseDeg) {}

  record Connected(@Nullable Integer turn, @Nullable String serial) {}

  record Reason(@Nullable Integer version, @Nullable String reason) {}

  /** The part to connect next, for which measurement of the asker; null when none is left. */
  record Next(@Nullable Integer turn, @Nullable String serial, int left) {}

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

  /** 409 while the study runs, but for QA who don't measure in it. */
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
    Studies.Progress progress = studies.progress(studies.study(id));
    Studies.Step asked = progress.asked();
    return asked == null
        ? new Next(null, null, progress.left())
        : new Next(asked.number(), asked.serial(), progress.left());
  }

  @PostMapping("/bench/gauge/{id}/values")
  Study record(@PathVariable long id, @RequestBody Value value) {
    return studies.record(
        id,
        present("turn", value.turn),
        present("serial", value.serial),
        present("phaseDeg", value.phaseDeg));
  }

  @PostMapping("/bench/gauge/{id}/captures")
  Study capture(@PathVariable long id, @RequestBody Connected part) {
    return studies.capture(id, present("turn", part.turn), present("serial", part.serial));
  }

  @PostMapping("/bench/gauge/{id}/strike")
  Study strike(@PathVariable long id, @RequestBody Reason request) {
    return studies.strike(id, present("reason", request.reason));
  }
}
