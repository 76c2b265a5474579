package org.equiphase.workorder;

import java.time.LocalDate;
import java.util.List;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;

/**
 * An order as it shall be in its next revision; {@link WorkOrders#revise} checks it as a whole.
 *
 * @param sets all of them, those that are added included; null to leave them as they are
 * @param cableLot of the assemblies of added sets; may be empty
 * @param reason why it is revised
 */
public record RevisionDraft(
    String title,
    @Nullable LocalDate dueOn,
    Specification specification,
    @Nullable List<SetDraft> sets,
    String cableLot,
    String reason) {}
