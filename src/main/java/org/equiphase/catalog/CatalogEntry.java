package org.equiphase.catalog;

/** What every kind of catalog entry has; id 0 means not stored yet. */
interface CatalogEntry {
  long id();

  int version();

  String name();

  String note();
}
