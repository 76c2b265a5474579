package org.equiphase.calculator;

import java.io.IOException;
import java.util.List;
import org.equiphase.rf.Method;
import org.equiphase.rf.TimeDomain;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.Window;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Where along a cable its reflections sit; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class TimeDomainCalculationApi {

  // Sidelobes at −44 dB for a resolution about half as wide again as without a window.
  private static final double USUAL_BETA = 6;

  record PeakAnswer(double distanceMm, double reflection, double returnLossDb) {
    static PeakAnswer of(TimeDomain.Peak peak) {
      return new PeakAnswer(peak.distanceMm(), peak.reflection(), peak.returnLossDb());
    }
  }

  record TimeDomainAnswer(
      Window.Kind window,
      @Nullable Double beta,
      double resolutionMm,
      double aliasFreeMm,
      List<PeakAnswer> peaks,
      double[] distanceMm,
      double[] reflection) {}

  /** S11 of a one-port or two-port file over the distance from the reference plane. */
  @PostMapping(path = "/time-domain", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  TimeDomainAnswer timeDomain(
      @RequestPart MultipartFile file,
      @RequestParam double velocityFactor,
      @RequestParam Window.Kind window,
      @RequestParam(required = false) @Nullable Double beta)
      throws IOException {
    TimeDomain view =
        TimeDomain.ofReflection(
            Uploads.read(file)
                // Either way of ending the cable reads S11 as it stands.
                .sweep(Method.REFLECTION_OPEN),
            window(window, beta),
            VelocityFactor.of(velocityFactor));
    boolean kaiser = window == Window.Kind.KAISER;
    return new TimeDomainAnswer(
        window,
        kaiser ? view.window().beta() : null,
        view.resolutionMm(),
        view.aliasFreeMm(),
        view.peaks().stream().map(PeakAnswer::of).toList(),
        view.distancesMm(),
        view.reflections());
  }

  private static Window window(Window.Kind kind, @Nullable Double beta) {
    if (kind == Window.Kind.KAISER) {
      return Window.kaiser(beta == null ? USUAL_BETA : beta);
    }
    if (beta != null) {
      throw InvalidInputException.of(
          "beta", "belongs to the window KAISER only; leave it out for " + kind);
    }
    return new Window(kind, 0);
  }
}
