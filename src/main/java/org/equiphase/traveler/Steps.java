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
import org.equiphase.traveler.Route.RouteStep;
import org.equiphase.traveler.StepState.Status;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
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
  public record Progress(Assembly assembly, WorkOrder order, Route route, List<StepState> steps) {

    public Progress {
      steps = List.copyOf(steps);
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

  /** What was signed off on screen, by assembly and then by number of the step. */
  record Done(long assemblyId, RouteStep step, String by, Instant at) {}

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
    return new Progress(assembly, order, route, states);
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

  /** What was signed off on screen for these assemblies. */
  @Transactional(readOnly = true)
  List<Done> done(List<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : jdbc.sql("select * from route_step_done where assembly_id in (:ids) order by id")
            .param("ids", assemblyIds)
            .query(Steps::toDone)
            .list();
  }

  private static Done toDone(ResultSet row, int index) throws SQLException {
    return new Done(
        row.getLong("assembly_id"),
        new RouteStep(
            row.getLong("step_number"),
            StepKind.valueOf(row.getString("kind")),
            row.getString("instruction"),
            false),
        row.getString("done_by"),
        row.getObject("done_at", OffsetDateTime.class).toInstant());
  }

  /**
   * Signs off the step that a code names, for whoever is signed in. It is signed off once; steps
   * that were passed over are told, and those that can't be are refused.
   */
  @Transactional
  public SignedStep sign(String code) {
    ScanCode scanned = ScanCode.read("code", code);
    Long number = scanned.stepNumber();
    if (number == null) {
      throw InvalidInputException.of("code", Sentence.of("traveler.steps.noStep", code.strip()));
    }
    Progress progress = of(scanned.serial());
    scanned.refuseOld(progress.order());
    Assembly assembly = progress.assembly();
    refuseStopped(assembly);
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
                insert into route_step_done (assembly_id, step_number, kind, instruction, revision,
                  done_by, done_at) values (?, ?, ?, ?, ?, ?, ?) on conflict do nothing
                """)
            .params(
                assembly.id(),
                number,
                step.kind().name(),
                step.instruction(),
                progress.order().revision(),
                Actor.name(),
                clock.instant().atOffset(ZoneOffset.UTC))
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
