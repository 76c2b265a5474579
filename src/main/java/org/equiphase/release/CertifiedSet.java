package org.equiphase.release;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.workorder.DecisionRule;
import org.jspecify.annotations.Nullable;

/**
 * Everything that a certificate of match says of a set. All phases are insertion phases in degrees,
 * one way, at the reference temperature; expanded uncertainties are 2·u.
 *
 * @param equipment what the members were measured with, a line for each bench and state of its
 *     calibration
 * @param concessions for members that were accepted out of tolerance
 */
public record CertifiedSet(
    Subject subject,
    Requirement requirement,
    List<Member> members,
    List<Spread> spreads,
    List<Equipment> equipment,
    List<Concession> concessions) {

  /** Coverage factor of all expanded uncertainties. */
  public static final double COVERAGE_FACTOR = 2;

  public CertifiedSet {
    members = List.copyOf(members);
    spreads = List.copyOf(spreads);
    equipment = List.copyOf(equipment);
    concessions = List.copyOf(concessions);
  }

  /** Which set it is, and of which order. */
  public record Subject(
      String orderNumber,
      String orderRevision,
      String orderTitle,
      long setId,
      String setName,
      @Nullable String masterSerial,
      String cableType,
      String connector,
      @Nullable Double connectorTorqueNm) {}

  /** What the order asks of the set. */
  public record Requirement(
      Method method,
      Basis basis,
      Turns turns,
      double nominalLengthMm,
      double referenceTemperatureC,
      DecisionRule decisionRule,
      double guardFactor,
      @Nullable Double vswrLimit,
      List<Limit> limits) {

    public Requirement {
      limits = List.copyOf(limits);
    }
  }

  /**
   * Limits at one frequency.
   *
   * @param toleranceDeg half-width of the phase window
   * @param acceptanceDeg the same less the guard band
   */
  public record Limit(
      double frequencyHz,
      double toleranceDeg,
      double acceptanceDeg,
      @Nullable Double insertionLossLimitDb,
      @Nullable Double insertionLossSpreadDb) {}

  /**
   * One assembly.
   *
   * @param offsetPhaseDeg and offsetDelayPs: deliberate offset of its position
   * @param stretcher name of the line stretcher that it is fitted with; null for none
   * @param probabilityIn of conformity at all frequencies together
   * @param dispositionNumber of the concession by which it is accepted; null where in tolerance
   */
  public record Member(
      String position,
      double offsetPhaseDeg,
      double offsetDelayPs,
      String serial,
      String cableLot,
      double trimmedMm,
      @Nullable String stretcher,
      @Nullable Double stretcherSettingMm,
      @Nullable Double probabilityIn,
      boolean conceded,
      @Nullable String dispositionNumber,
      Taken reading,
      List<Spot> spots) {

    public Member {
      spots = List.copyOf(spots);
    }
  }

  /**
   * Where a member's numbers come from.
   *
   * @param checkedAfter whether the reference cable was measured after it too, not only before
   */
  public record Taken(
      long readingId,
      Instant at,
      String by,
      String bench,
      double temperatureC,
      boolean checkedAfter) {}

  /**
   * A member at one frequency.
   *
   * @param phaseExpandedDeg expanded uncertainty of the phase
   * @param errorDeg phase less target
   * @param errorExpandedDeg expanded uncertainty of the error, by what it is counted against
   */
  public record Spot(
      double frequencyHz,
      double phaseDeg,
      double phaseExpandedDeg,
      double targetDeg,
      double errorDeg,
      double errorExpandedDeg,
      double toleranceDeg,
      double acceptanceDeg,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {}

  /**
   * Largest less smallest of the members at one frequency.
   *
   * @param errorDeg of the errors, so that deliberate offsets do not count
   * @param insertionLossDb null where a member's loss was not measured
   */
  public record Spread(double frequencyHz, double errorDeg, @Nullable Double insertionLossDb) {}

  /**
   * A bench as it stood at the readings.
   *
   * @param endStandard null in transmission
   * @param adapters as the bench had them when the set was released
   */
  public record Equipment(
      String bench,
      String instrument,
      String instrumentSerialNumber,
      LocalDate instrumentCalibrationDue,
      LocalDate benchCalibrationDue,
      @Nullable String endStandard,
      List<String> adapters) {

    public Equipment {
      adapters = List.copyOf(adapters);
    }
  }

  /**
   * A member out of tolerance that QA accepted as it is.
   *
   * @param signedBy who decided and who agreed, each with the time
   */
  public record Concession(String number, String serial, String text, List<Signer> signedBy) {

    public Concession {
      signedBy = List.copyOf(signedBy);
    }
  }

  /** Someone under a concession. */
  public record Signer(String displayName, Instant at) {}
}
