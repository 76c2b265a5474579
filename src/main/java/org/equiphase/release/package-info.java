/**
 * QA releases matched sets: what hinders it, the signature, the certificate of match, and the
 * withdrawal. A certificate is printed from what was stored with the signature, and from nothing
 * else.
 */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "account",
      "adjustment",
      "audit",
      "catalog",
      "measurement",
      "review",
      "sheet",
      "web",
      "workorder"
    })
package org.equiphase.release;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
