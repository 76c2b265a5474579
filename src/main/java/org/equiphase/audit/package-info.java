/**
 * The append-only log of who did what. A chain of hashes shows tampering with the log, seals in it
 * show tampering with the rows it tells of ({@link org.equiphase.audit.Seal}). Neither shows it
 * where someone rebuilds all hashes from an entry on: only a copy of the end of the chain ({@link
 * org.equiphase.audit.ChainEnd}), kept out of reach, does.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"sheet", "web"})
package org.equiphase.audit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
