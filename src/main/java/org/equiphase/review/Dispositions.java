package org.equiphase.review;

import java.util.Map;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** QA's decisions on assemblies; the set is planned again after each. */
@Service
public class Dispositions {

  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final AuditLog audit;

  Dispositions(WorkOrders workOrders, Adjustments adjustments, AuditLog audit) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
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
    audit.record("RELEASED", "assembly", serial, Map.of("reason", reason));
    Assembly released = workOrders.move(assembly, AssemblyState.MEASURED, "");
    planAgain(released);
    return workOrders.assembly(released.id());
  }

  /** Gives the position of an assembly to another one, new or from the order's pool. */
  @Transactional
  public Assembly replace(String serial, String newSerial, String reason) {
    Assembly old = workOrders.assemblyBySerial(serial);
    Assembly replacement = workOrders.replace(old, newSerial.strip(), reason);
    planAgain(replacement);
    return workOrders.assembly(replacement.id());
  }

  private void planAgain(Assembly assembly) {
    Long setId = assembly.setId();
    if (setId != null) {
      adjustments.planAgain(setId);
    }
  }
}
