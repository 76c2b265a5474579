/** What whoever runs the service needs: its health, its metrics, backups and their restoring. */
@NullMarked
@ApplicationModule(allowedDependencies = {"audit", "web"})
package org.equiphase.operation;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
