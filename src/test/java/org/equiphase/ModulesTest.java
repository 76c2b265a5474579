package org.equiphase;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;

import org.junit.jupiter.api.Test;
import org.springframework.modulith.core.ApplicationModules;

/**
 * A feature uses others only as its package-info allows. The pure packages are open to all features
 * and so left out here; what they may use themselves is {@link BoundariesTest}'s concern.
 */
class ModulesTest {

  @Test
  void featuresUseEachOtherOnlyAsDeclared() {
    ApplicationModules.of(
            EquiphaseApplication.class,
            resideInAnyPackage(
                "org.equiphase.rf..",
                "org.equiphase.matching..",
                "org.equiphase.metrology..",
                "org.equiphase.array.."))
        .verify();
  }
}
