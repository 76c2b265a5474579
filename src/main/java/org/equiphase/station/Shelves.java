package org.equiphase.station;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Where files go from the watched folder. A file there is never overwritten. */
final class Shelves {

  static final String SENT = "sent";
  static final String REFUSED = "refused";
  static final String REASON = ".reason.txt";

  private final Path folder;

  Shelves(Path folder) {
    this.folder = folder;
  }

  void sent(Path file) throws IOException {
    Files.move(file, place(SENT, file));
  }

  /** The reason goes first, so that no refused file lies there without. */
  void refused(Path file, String reason) throws IOException {
    Path place = place(REFUSED, file);
    Files.writeString(
        place.resolveSibling(place.getFileName() + REASON), reason + System.lineSeparator());
    Files.move(file, place);
  }

  private Path place(String shelf, Path file) throws IOException {
    Path into = Files.createDirectories(folder.resolve(shelf));
    String name = file.getFileName().toString();
    int dot = name.lastIndexOf('.');
    Path place = into.resolve(name);
    for (int i = 2; Files.exists(place); i++) {
      place = into.resolve(name.substring(0, dot) + " (" + i + ")" + name.substring(dot));
    }
    return place;
  }
}
