package org.equiphase.account;

/** What a person does in the shop. */
public enum Role {
  /** Logs readings and signs off cuts and settings. */
  TECHNICIAN("Technician"),
  /** Decides on nonconforming items and watches the process. */
  QA("QA"),
  /** Writes work orders and keeps the catalog. */
  PLANNER("Planner"),
  /** Looks after accounts. */
  ADMINISTRATOR("Administrator");

  private final String title;

  Role(String title) {
    this.title = title;
  }

  /** The name that people read. */
  public String title() {
    return title;
  }
}
