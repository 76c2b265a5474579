package org.equiphase.workbook;

import java.util.Map;
import java.util.Set;

/**
 * A row of an uploaded workbook.
 *
 * @param number as the spreadsheet program counts, from 1
 * @param filled what stands in the cells that the floor fills in, without those left empty
 * @param formulas those of them that hold a formula
 */
record FilledRow(
    int number, String serial, String key, Map<Field, String> filled, Set<Field> formulas) {

  FilledRow {
    filled = Map.copyOf(filled);
    formulas = Set.copyOf(formulas);
  }
}
