package org.equiphase.calculator;

import java.io.IOException;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.springframework.web.multipart.MultipartFile;

/** Reads an uploaded Touchstone file; its name tells the number of ports. */
final class Uploads {

  private Uploads() {}

  static TouchstoneFile read(MultipartFile file) throws IOException {
    String name = file.getOriginalFilename();
    return TouchstoneReader.read(
        file.getInputStream(),
        TouchstoneReader.portsOfFileName(name == null ? "" : name),
        ReadLimits.USUAL);
  }
}
