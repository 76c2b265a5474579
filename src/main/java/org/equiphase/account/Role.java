package org.equiphase.account;

/** What a person does in the shop. */
public enum Role {
  /** Logs readings and signs off cuts and settings. */
  TECHNICIAN,
  /** Decides on nonconforming items and watches the process. */
  QA,
  /** Writes work orders and keeps the catalog. */
  PLANNER,
  /** Looks after accounts. */
  ADMINISTRATOR
}
