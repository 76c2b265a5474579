package org.equiphase.process;

import java.util.List;
import java.util.stream.Collectors;
import org.equiphase.process.ControlChart.Point;
import org.equiphase.web.Format;
import org.equiphase.web.Texts;
import org.springframework.stereotype.Component;

/** What a chart says of the point under its cursor; templates call it as {@code @processWords}. */
@Component("processWords")
class PointWords {

  private final Format format;

  PointWords(Format format) {
    this.format = format;
  }

  public String of(Point point) {
    Characteristic what = point.value().series().characteristic();
    return List.of(
            point.number() + " · " + format.time(point.value().at()),
            point.value().serial(),
            format.decimals(point.value().value(), what.decimals()) + " " + what.symbol(),
            point.words().stream().map(Texts::say).collect(Collectors.joining("; ")))
        .stream()
        .filter(part -> !part.isEmpty())
        .collect(Collectors.joining(" · "));
  }
}
