package org.equiphase.traveler;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.equiphase.adjustment.AssemblyHistory;
import org.equiphase.adjustment.Instruction;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.traveler.Route.RouteStep;
import org.equiphase.traveler.StepState.Status;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.ScanCode;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How far assemblies are on their route, and the sign-off of its steps by a scan. */
@Service
public class Steps {

  private final JdbcClient jdbc;
  private final WorkOrders workOrders;
  private final Routes routes;
  private final AssemblyHistory history;
  private final AuditLog audit;
  private final Clock clock;

  Steps(
      JdbcClient jdbc,
      WorkOrders workOrders,
      Routes routes,
      AssemblyHistory history,
      AuditLog audit,
      Clock clock) {
    this.jdbc = jdbc;
    this.workOrders = workOrders;
    this.routes = routes;
    this.history = history;
    this.audit = audit;
    this.clock = clock;
  }

  /** An assembly on its route. */
  public record Progress(
      Assembly assembly,
      WorkOrder order,
      Route route,
      List<StepState> steps,
      List<Withdrawn> withdrawn) {

    public Progress {
      steps = List.copyOf(steps);
      withdrawn = List.copyOf(withdrawn);
    }

    /** The step with this number; empty where the route has none such. */
    public Optional<StepState> step(long number) {
      return steps.stream().filter(s -> s.onRoute() && s.step().number() == number).findFirst();
    }

    /** Steps of the route that come before a step and are not done. */
    public List<StepState> openBefore(StepState step) {
      List<StepState> onRoute = steps.stream().filter(StepState::onRoute).toList();
      return onRoute.subList(0, onRoute.indexOf(step)).stream()
          .filter(s -> s.status() == Status.OPEN)
          .toList();
    }
  }

  /**
   * A step just signed off.
   *
   * @param passedOver earlier steps that are still open
   */
  public record SignedStep(String serial, StepState step, List<StepState> passedOver) {

    public SignedStep {
      passedOver = List.copyOf(passedOver);
    }

    /** The earlier steps that are still open, by name; null where there are none. */
    public @Nullable Sentence warning() {
      return passedOver.isEmpty()
          ? null
          : Sentence.of("traveler.steps.passedOver", names(passedOver));
    }

    private static Sentence names(List<StepState> steps) {
      return steps.stream()
          .map(StepState::title)
          .reduce((one, next) -> Sentence.of("traveler.steps.and", one, next))
          .orElseThrow();
    }
  }

  /** A step signed off on screen. */
  record Done(long id, long assemblyId, RouteStep step, String by, Instant at) {}

  /** A sign-off that no longer counts, and why. */
  public record Withdrawn(RouteStep step, String signedBy, String reason, String by, Instant at) {

    /** The number of the step and what it is called. */
    public Sentence title() {
      return step.title();
    }
  }

  @Transactional(readOnly = true)
  public Progress of(String serial) {
    return progress(workOrders.assemblyBySerial(serial));
  }

  private Progress progress(Assembly assembly) {
    WorkOrder order = workOrders.order(assembly.workOrderId());
    Route route = routes.ofOrder(order.id()).route();
    AssemblyHistory.History known = history.of(assembly);
    Map<Long, Done> done =
        done(List.of(assembly.id())).stream()
            .collect(Collectors.toMap(d -> d.step().number(), d -> d));
    List<StepState> states = new ArrayList<>();
    for (RouteStep step : route.steps()) {
      states.add(state(assembly, step, done.remove(step.number()), known));
    }
    done.values().stream()
        .sorted(Comparator.comparing(Done::at))
        .forEach(d -> states.add(StepState.signed(d, false)));
    return new Progress(assembly, order, route, states, withdrawn(assembly));
  }

  private static StepState state(
      Assembly assembly, RouteStep step, @Nullable Done done, AssemblyHistory.History known) {
    if (done != null) {
      return StepState.signed(done, true);
    }
    Instruction worked =
        known.instructions().stream()
            .filter(i -> i.state() == Instruction.State.DONE)
            .max(Comparator.comparing(Instruction::id))
            .orElse(null);
    List<Reading> valid = known.readings().stream().filter(r -> r.voided() == null).toList();
    return switch (step.kind()) {
      case MEASURE ->
          valid.stream()
              .min(Comparator.comparing(Reading::id))
              .map(reading -> StepState.read(step, reading))
              .orElseGet(() -> StepState.open(step));
      case TRIM ->
          assembly.state() == AssemblyState.INSTRUCTED
              ? StepState.open(step)
              : worked != null ? StepState.worked(step, worked) : untouched(assembly, step);
      case REMEASURE ->
          worked == null
              ? untouched(assembly, step)
              : worked
                  .firstAfter(valid)
                  .map(reading -> StepState.read(step, reading))
                  .orElseGet(() -> StepState.open(step));
      default -> StepState.open(step);
    };
  }

  /** What is accepted as it is needs no cut, and none after that. */
  private static StepState untouched(Assembly assembly, RouteStep step) {
    return switch (assembly.state()) {
      case IN_TOLERANCE, MATCHED, CONCEDED, RELEASED -> StepState.notNeeded(step);
      default -> StepState.open(step);
    };
  }

  /** What is signed off on screen for these assemblies. */
  @Transactional(readOnly = true)
  List<Done> done(List<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : jdbc.sql(
                """
                select * from step_sign_off where assembly_id in (:ids)
                  and id not in (select step_sign_off_id from step_withdrawal) order by id
                """)
            .param("ids", assemblyIds)
            .query(Steps::toDone)
            .list();
  }

  private static Done toDone(ResultSet row, int index) throws SQLException {
    return new Done(
        row.getLong("id"),
        row.getLong("assembly_id"),
        toStep(row),
        row.getString("done_by"),
        instant(row, "done_at"));
  }

  private static RouteStep toStep(ResultSet row) throws SQLException {
    return new RouteStep(
        row.getLong("step_number"),
        StepKind.valueOf(row.getString("kind")),
        row.getString("instruction"),
        false);
  }

  private static Instant instant(ResultSet row, String column) throws SQLException {
    return row.getObject(column, OffsetDateTime.class).toInstant();
  }

  private List<Withdrawn> withdrawn(Assembly assembly) {
    return jdbc.sql(
            """
            select s.step_number, s.kind, s.instruction, s.done_by, w.reason, w.withdrawn_by,
              w.withdrawn_at
            from step_withdrawal w join step_sign_off s on s.id = w.step_sign_off_id
            where s.assembly_id = ? order by w.withdrawn_at
            """)
        .param(assembly.id())
        .query(
            (row, i) ->
                new Withdrawn(
                    toStep(row),
                    row.getString("done_by"),
                    row.getString("reason"),
                    row.getString("withdrawn_by"),
                    instant(row, "withdrawn_at")))
        .list();
  }

  /**
   * Withdraws the sign-off of a step, which may then be signed off anew.
   *
   * @param anyones whether another person's may be withdrawn, too
   * @return the assembly's serial number
   */
  @Transactional
  public String withdraw(long signOffId, String reason, boolean anyones) {
    new Checks().text("reason", reason, 500).done();
    Done done =
        jdbc.sql("select * from step_sign_off where id = ?")
            .param(signOffId)
            .query(Steps::toDone)
            .optional()
            .orElseThrow(() -> new NotFoundException("sign-off", "" + signOffId));
    Assembly assembly = workOrders.assembly(done.assemblyId());
    workOrders.refuseReleased(assembly);
    if (!anyones && !done.by().equals(Actor.name())) {
      throw new ConflictException(
          Sentence.of("traveler.steps.notYours", done.step().title(), done.by()));
    }
    int written =
        jdbc.sql("insert into step_withdrawal values (?, ?, ?, ?) on conflict do nothing")
            .params(signOffId, reason.strip(), Actor.name(), now())
            .update();
    if (written == 0) {
      throw new ConflictException(
          Sentence.of("traveler.steps.withdrawnAlready", done.step().title()));
    }
    audit.record(
        "STEP_SIGN_OFF_WITHDRAWN",
        "assembly",
        assembly.serial(),
        Map.of(
            "step",
            done.step().number(),
            "kind",
            done.step().kind().name(),
            "signedBy",
            done.by(),
            "reason",
            reason.strip()));
    return assembly.serial();
  }

  private OffsetDateTime now() {
    return clock.instant().atOffset(ZoneOffset.UTC);
  }

  /**
   * Signs off the step that a code names, for whoever is signed in. It is signed off once; steps
   * that were passed over are told, and those that can't be are refused.
   *
   * @param doneAt when it was done, where it is told later; null for now
   */
  @Transactional
  public SignedStep sign(String code, @Nullable Instant doneAt) {
    ScanCode scanned = ScanCode.read("code", code);
    Long number = scanned.stepNumber();
    if (number == null) {
      throw InvalidInputException.of("code", Sentence.of("traveler.steps.noStep", code.strip()));
    }
    Progress progress = of(scanned.serial());
    scanned.refuseOld(progress.order());
    Assembly assembly = progress.assembly();
    refuseStopped(assembly);
    Instant at = doneAt == null ? clock.instant() : doneAt;
    if (at.isBefore(progress.order().createdAt())
        || at.isAfter(clock.instant().plus(Readings.CLOCK_SKEW))) {
      throw InvalidInputException.of("doneAt", Sentence.of("traveler.steps.doneAt", at.toString()));
    }
    StepState state =
        progress
            .step(number)
            .orElseThrow(
                () ->
                    new ConflictException(
                        Sentence.of(
                            "traveler.steps.notOnRoute", number + "", progress.route().name())));
    refuseSettled(state);
    List<StepState> before = progress.openBefore(state);
    before.stream()
        .filter(s -> s.step().kind().isKnown())
        .findFirst()
        .ifPresent(
            missing -> {
              throw new ConflictException(
                  Sentence.of("traveler.steps.tooEarly", state.title(), missing.title()));
            });
    RouteStep step = state.step();
    int written =
        jdbc.sql(
                """
                insert into step_sign_off (assembly_id, step_number, turn, kind, instruction,
                  revision, done_by, done_at) values (?, ?, ?, ?, ?, ?, ?, ?) on conflict do nothing
                """)
            .params(
                assembly.id(),
                number,
                1 + progress.withdrawn().stream().filter(w -> w.step().number() == number).count(),
                step.kind().name(),
                step.instruction(),
                progress.order().revision(),
                Actor.name(),
                at.atOffset(ZoneOffset.UTC))
            .update();
    StepState signed = of(scanned.serial()).step(number).orElseThrow();
    if (written == 0) {
      refuseSettled(signed);
    }
    audit.record(
        "STEP_SIGNED_OFF",
        "assembly",
        assembly.serial(),
        Map.of(
            "step",
            number,
            "kind",
            step.kind().name(),
            "revision",
            progress.order().revision(),
            "passedOver",
            before.stream().map(s -> s.step().number()).toList()));
    return new SignedStep(assembly.serial(), signed, before);
  }

  /** What a sign-off that was stored looks like now; empty where the step is not signed off. */
  @Transactional(readOnly = true)
  public Optional<SignedStep> signed(String code) {
    ScanCode scanned = ScanCode.read("code", code);
    Long number = scanned.stepNumber();
    if (number == null) {
      return Optional.empty();
    }
    Progress progress = of(scanned.serial());
    return progress
        .step(number)
        .filter(s -> s.status() == Status.DONE)
        .map(s -> new SignedStep(scanned.serial(), s, progress.openBefore(s)));
  }

  private static void refuseStopped(Assembly assembly) {
    if (assembly.isGone()
        || assembly.state() == AssemblyState.ON_HOLD
        || assembly.state() == AssemblyState.RELEASED) {
      throw new ConflictException(
          Sentence.of(
              "traveler.steps.stopped", assembly.serial(), Sentence.term(assembly.state())));
    }
  }

  private static void refuseSettled(StepState state) {
    if (state.status() == Status.DONE) {
      throw new ConflictException(
          Sentence.of(
              "traveler.steps.already",
              state.title(),
              state.by() == null ? "" : state.by(),
              Format.PLAIN.time(state.at())));
    }
    if (state.status() == Status.NOT_NEEDED) {
      throw new ConflictException(Sentence.of("traveler.steps.notNeeded", state.title()));
    }
    if (state.step().kind().isKnown()) {
      throw new ConflictException(
          Sentence.of(
              state.step().kind() == StepKind.TRIM
                  ? "traveler.steps.byInstruction"
                  : "traveler.steps.byReading",
              state.title()));
    }
  }
}
