package org.equiphase.release;

import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.sheet.PdfWriter;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Component;

/** Certificates as files; the name of a file is the same in all languages. */
@Component
class Certificates {

  private final Releases releases;
  private final PdfWriter pdf;

  Certificates(Releases releases, PdfWriter pdf) {
    this.releases = releases;
    this.pdf = pdf;
  }

  CertificateSheet sheet(SetRelease release) {
    Long next = release.supersededById();
    return new CertificateSheet(
        release, release.certificate(), next == null ? null : releases.release(next).number());
  }

  ResponseEntity<byte[]> pdf(long id, String paper, Locale locale) {
    CertificateSheet sheet = sheet(releases.release(id));
    return FileAnswer.pdf(
        name(sheet), pdf.write("release/certificate", sheet, Paper.of(paper), locale));
  }

  ResponseEntity<byte[]> xlsx(long id, Locale locale) {
    CertificateSheet sheet = sheet(releases.release(id));
    return FileAnswer.xlsx(name(sheet), CertificateBook.write(sheet, locale));
  }

  private static String name(CertificateSheet sheet) {
    return "certificate-" + sheet.release().number();
  }
}
