/**
 * What every sheet is made with: PDF from a template, workbooks, tables of data, barcodes, and the
 * answer that carries them as files. It knows nothing of what the sheets say.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"web"})
package org.equiphase.sheet;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
