package org.equiphase.traveler;

import org.equiphase.sheet.Code128;

/**
 * Where labels stand on a page. The sizes are those that label sheets and label printers are widely
 * sold in (common practice, no source; margins and pitches from memory): hold a trial print on
 * plain paper against the sheet first, printed at 100 %.
 */
public enum LabelLayout {
  A4_70X37("a4-70x37", 210, 297, 3, 8, 70, 37, 0, 0.5, 70, 37),
  A4_38X21("a4-38x21", 210, 297, 5, 13, 38.1, 21.2, 4.75, 10.7, 40.6, 21.2),
  LETTER_67X25("letter-67x25", 215.9, 279.4, 3, 10, 66.7, 25.4, 4.75, 12.7, 69.85, 25.4),
  SINGLE_62X29("62x29", 62, 29),
  SINGLE_100X50("100x50", 100, 50),
  SINGLE_51X25("51x25", 51, 25),
  /** A part that is wrapped around the cable, and the flag twice, to be folded back to back. */
  FLAG("flag-130x20", 130, 20);

  /** The wrapped part of a flag goes once around a cable of up to 9 mm. */
  private static final double WRAP_MM = 30;

  /** Clear of the edges, since a print is never quite in place. */
  private static final double EDGE_MM = 0.8;

  /** A dot of a printer for single labels: 8 to the millimetre. */
  private static final double DOT_MM = 0.125;

  /** Modules of so many dots are read from an arm's length; wider ones gain nothing. */
  private static final int MOST_DOTS = 4;

  private final String code;
  private final double pageWidthMm;
  private final double pageHeightMm;
  private final int columns;
  private final int rows;
  private final double widthMm;
  private final double heightMm;
  private final double leftMm;
  private final double topMm;
  private final double pitchXMm;
  private final double pitchYMm;

  LabelLayout(String code, double widthMm, double heightMm) {
    this(code, widthMm, heightMm, 1, 1, widthMm, heightMm, 0, 0, widthMm, heightMm);
  }

  LabelLayout(
      String code,
      double pageWidthMm,
      double pageHeightMm,
      int columns,
      int rows,
      double widthMm,
      double heightMm,
      double leftMm,
      double topMm,
      double pitchXMm,
      double pitchYMm) {
    this.code = code;
    this.pageWidthMm = pageWidthMm;
    this.pageHeightMm = pageHeightMm;
    this.columns = columns;
    this.rows = rows;
    this.widthMm = widthMm;
    this.heightMm = heightMm;
    this.leftMm = leftMm;
    this.topMm = topMm;
    this.pitchXMm = pitchXMm;
    this.pitchYMm = pitchYMm;
  }

  /** How requests name it. */
  public String code() {
    return code;
  }

  public double pageWidthMm() {
    return pageWidthMm;
  }

  public double pageHeightMm() {
    return pageHeightMm;
  }

  public double widthMm() {
    return widthMm;
  }

  public double heightMm() {
    return heightMm;
  }

  /** How many labels a page holds. */
  public int perPage() {
    return columns * rows;
  }

  /** Width of the part of a flag that is wrapped around the cable. */
  public double wrapMm() {
    return WRAP_MM;
  }

  public boolean isFlag() {
    return this == FLAG;
  }

  /** Left edge on the page of the label at a place, 0 being the first. */
  double leftMm(int place) {
    return leftMm + place % columns * pitchXMm;
  }

  /** Top edge on the page of the label at a place; row by row. */
  double topMm(int place) {
    return topMm + place / columns * pitchYMm;
  }

  /** Width of what is printed side by side: the label, or one side of the flag. */
  public double faceMm() {
    return isFlag() ? (widthMm - WRAP_MM) / 2 : widthMm;
  }

  /** Width that is there for a barcode, its quiet zones included. */
  public double roomMm() {
    return faceMm() - 2 * EDGE_MM;
  }

  /** Printed width of a code; printers for single labels get modules of whole dots. */
  double barcodeMm(Code128 barcode) {
    double mostMm = roomMm() / barcode.modules();
    double moduleMm =
        perPage() == 1
            ? Math.min(MOST_DOTS, Math.floor(mostMm / DOT_MM + 1e-9)) * DOT_MM
            : Math.min(Code128.USUAL_MODULE_MM, mostMm);
    return barcode.modules() * moduleMm;
  }

  boolean hasRoomFor(Code128 barcode) {
    return barcode.leastMm() <= roomMm();
  }
}
