package org.equiphase.review;

import java.util.Map;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.audit.AuditLog;
import org.equiphase.review.Disposition.State;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Holds that QA lays on assemblies; the set is planned again after each change. */
@Service
public class Holds {

  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final DispositionRecords dispositions;
  private final AuditLog audit;

  Holds(
      WorkOrders workOrders,
      Adjustments adjustments,
      DispositionRecords dispositions,
      AuditLog audit) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
    this.dispositions = dispositions;
    this.audit = audit;
  }

  /** Keeps an assembly from being cut, set or accepted until it is released. */
  @Transactional
  public Assembly hold(String serial, String reason) {
    Assembly held = workOrders.hold(workOrders.assemblyBySerial(serial), reason);
    planAgain(held);
    return workOrders.assembly(held.id());
  }

  /** Ends a person's hold; where the assembly then stands follows from its readings. */
  @Transactional
  public Assembly release(String serial, String reason) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    new Checks().text("reason", reason, 500).done();
    if (assembly.heldBy() == null) {
      throw new ConflictException(Sentence.of("order.notHeld", serial));
    }
    boolean waits =
        dispositions.about(assembly.id()).stream().anyMatch(d -> d.state() == State.PENDING);
    if (waits) {
      throw new ConflictException(Sentence.of("disposition.waitsForSecond", serial));
    }
    audit.record("RELEASED", "assembly", serial, Map.of("reason", reason));
    Assembly released = workOrders.move(assembly, AssemblyState.MEASURED, "");
    planAgain(released);
    return workOrders.assembly(released.id());
  }

  private void planAgain(Assembly assembly) {
    Long setId = assembly.setId();
    if (setId != null) {
      adjustments.planAgain(setId);
    }
  }
}
