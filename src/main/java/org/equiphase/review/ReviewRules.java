package org.equiphase.review;

import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Keeps QA's own rules. A change counts from then on; decisions that wait stay as they are. */
@Service
public class ReviewRules {

  private static final int MOST_DAYS = 365;

  private final JdbcClient jdbc;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;

  ReviewRules(JdbcClient jdbc, AuditLog audit, ApplicationEventPublisher events) {
    this.jdbc = jdbc;
    this.audit = audit;
    this.events = events;
  }

  @Transactional(readOnly = true)
  public ReviewSettings settings() {
    return jdbc.sql("select * from review_setting where id = 1")
        .query(
            (row, n) ->
                new ReviewSettings(
                    row.getInt("version"),
                    row.getDouble("at_risk_probability"),
                    row.getDouble("fit_share"),
                    row.getInt("calibration_days"),
                    row.getBoolean("two_person_concession"),
                    row.getBoolean("two_person_scrap")))
        .single();
  }

  /** Changes the settings that carry the present version. */
  @Transactional
  public ReviewSettings change(ReviewSettings wanted) {
    new Checks()
        .inRange("atRiskProbability", wanted.atRiskProbability(), 0.5, 0.9999)
        .inRange("fitShare", wanted.fitShare(), 0.01, 10)
        .inRange("calibrationDays", wanted.calibrationDays(), 0, MOST_DAYS)
        .done();
    int changed =
        jdbc.sql(
                """
                update review_setting set version = version + 1, at_risk_probability = ?,
                  fit_share = ?, calibration_days = ?, two_person_concession = ?,
                  two_person_scrap = ?
                where id = 1 and version = ?
                """)
            .param(wanted.atRiskProbability())
            .param(wanted.fitShare())
            .param(wanted.calibrationDays())
            .param(wanted.twoPersonConcession())
            .param(wanted.twoPersonScrap())
            .param(wanted.version())
            .update();
    if (changed == 0) {
      throw new ConflictException(Sentence.of("disposition.settingsChanged"));
    }
    audit.record(
        "REVIEW_RULES_CHANGED",
        "review rules",
        "1",
        Map.of(
            "atRiskProbability", wanted.atRiskProbability(),
            "fitShare", wanted.fitShare(),
            "calibrationDays", wanted.calibrationDays(),
            "twoPersonConcession", wanted.twoPersonConcession(),
            "twoPersonScrap", wanted.twoPersonScrap()));
    ReviewSettings settings = settings();
    events.publishEvent(new ReviewRulesChanged(settings));
    return settings;
  }
}
