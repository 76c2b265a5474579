package org.equiphase.release;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.util.Locale;
import org.equiphase.sheet.PdfAnswer;
import org.equiphase.sheet.XlsxAnswer;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Certificates of match for people and machine clients alike. */
@RestController
@RequestMapping({"/release/{id}", "/api/v1/release/{id}"})
@Tag(name = "Releases")
class CertificateDownloads {

  private final Certificates certificates;
  private final Releases releases;

  CertificateDownloads(Certificates certificates, Releases releases) {
    this.certificates = certificates;
    this.releases = releases;
  }

  @GetMapping("/certificate.pdf")
  @Operation(summary = "The certificate of match, on A4 or Letter")
  @PdfAnswer
  ResponseEntity<byte[]> pdf(
      @PathVariable long id, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    return certificates.pdf(id, paper, locale);
  }

  @GetMapping("/certificate.xlsx")
  @Operation(summary = "The certificate of match as a workbook")
  @XlsxAnswer
  ResponseEntity<byte[]> xlsx(@PathVariable long id, Locale locale) {
    return certificates.xlsx(id, locale);
  }

  @GetMapping(path = "/certificate.json", produces = MediaType.APPLICATION_JSON_VALUE)
  @Operation(summary = "The data of the certificate, byte for byte as they were hashed")
  String data(@PathVariable long id) {
    return releases.release(id).snapshot();
  }
}
