package org.equiphase;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/**
 * The pure packages know no Spring and no database, and use each other only as the table allows.
 * The station, which shares the jar with the service, uses nothing of it.
 */
@AnalyzeClasses(
    packagesOf = EquiphaseApplication.class,
    importOptions = ImportOption.DoNotIncludeTests.class)
class BoundariesTest {

  private static final String[] PLATFORM = {
    "java..", "org.jspecify..", "org.apache.commons.numbers..", "org.apache.commons.statistics.."
  };

  @ArchTest static final ArchRule rf = only("org.equiphase.rf", "org.equiphase.rf");

  @ArchTest
  static final ArchRule touchstone =
      only("org.equiphase.rf.touchstone", "org.equiphase.rf", "org.equiphase.rf.touchstone");

  @ArchTest
  static final ArchRule matching =
      only("org.equiphase.matching", "org.equiphase.matching", "org.equiphase.rf");

  @ArchTest
  static final ArchRule metrology =
      only("org.equiphase.metrology", "org.equiphase.metrology", "org.equiphase.rf");

  @ArchTest
  static final ArchRule array =
      only("org.equiphase.array", "org.equiphase.array", "org.equiphase.rf");

  @ArchTest
  static final ArchRule station =
      only("org.equiphase.station", "org.equiphase.station", "tools.jackson..");

  /** Of the catalog it takes the record of a connection, which is plain Java. */
  @ArchTest
  static final ArchRule scpi =
      only(
          "org.equiphase.measurement.scpi",
          "org.equiphase.measurement.scpi",
          "org.equiphase.rf",
          "org.equiphase.catalog");

  private static ArchRule only(String packageName, String... allowed) {
    String[] all = new String[PLATFORM.length + allowed.length];
    System.arraycopy(PLATFORM, 0, all, 0, PLATFORM.length);
    System.arraycopy(allowed, 0, all, PLATFORM.length, allowed.length);
    return classes()
        .that()
        .resideInAPackage(packageName)
        .should()
        .onlyDependOnClassesThat()
        .resideInAnyPackage(all)
        .allowEmptyShould(true);
  }
}
