package org.equiphase.sheet;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import org.apache.pdfbox.io.IOUtils;
import org.apache.pdfbox.multipdf.PDFMergerUtility;

/** Binds PDFs into one, on disk and not in memory. */
public final class PdfBinder {

  private PdfBinder() {}

  public static void bind(List<Path> parts, Path whole) {
    PDFMergerUtility merger = new PDFMergerUtility();
    // Takes the pages of each part and closes it again, where the other mode keeps all open.
    merger.setDocumentMergeMode(PDFMergerUtility.DocumentMergeMode.OPTIMIZE_RESOURCES_MODE);
    merger.setDestinationFileName(whole.toString());
    try {
      for (Path part : parts) {
        merger.addSource(part.toFile());
      }
      merger.mergeDocuments(IOUtils.createTempFileOnlyStreamCache());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
