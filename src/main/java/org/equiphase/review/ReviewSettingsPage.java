package org.equiphase.review;

import java.util.LinkedHashMap;
import java.util.Map;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where the administrator sets QA's rules; shares are in percent here. */
@Controller
@RequestMapping("/review/settings")
class ReviewSettingsPage {

  private static final double PERCENT = 100;

  private final ReviewRules rules;
  private final Format format;

  ReviewSettingsPage(ReviewRules rules, Format format) {
    this.rules = rules;
    this.format = format;
  }

  @GetMapping
  ModelAndView settings() {
    ReviewSettings settings = rules.settings();
    Map<String, String> typed = new LinkedHashMap<>();
    typed.put("atRiskProbability", format.plain(PERCENT * settings.atRiskProbability()));
    typed.put("fitShare", format.plain(PERCENT * settings.fitShare()));
    typed.put("calibrationDays", "" + settings.calibrationDays());
    return page(settings, typed, Map.of(), null, HttpStatus.OK);
  }

  @PostMapping
  ModelAndView change(
      @RequestParam int version,
      @RequestParam(defaultValue = "") String atRiskProbability,
      @RequestParam(defaultValue = "") String fitShare,
      @RequestParam(defaultValue = "") String calibrationDays,
      @RequestParam(defaultValue = "false") boolean twoPersonConcession,
      @RequestParam(defaultValue = "false") boolean twoPersonScrap) {
    Map<String, String> typed =
        Map.of(
            "atRiskProbability", atRiskProbability,
            "fitShare", fitShare,
            "calibrationDays", calibrationDays);
    ReviewSettings kept = rules.settings();
    ReviewSettings wanted =
        new ReviewSettings(
            version,
            kept.atRiskProbability(),
            kept.fitShare(),
            kept.calibrationDays(),
            twoPersonConcession,
            twoPersonScrap);
    try {
      rules.change(
          new ReviewSettings(
              version,
              Numbers.read("atRiskProbability", atRiskProbability) / PERCENT,
              Numbers.read("fitShare", fitShare) / PERCENT,
              days(calibrationDays),
              twoPersonConcession,
              twoPersonScrap));
    } catch (InvalidInputException e) {
      return page(wanted, typed, e.byField(), null, HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return page(wanted, typed, Map.of(), e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/review/settings");
  }

  private static int days(String typed) {
    double days = Numbers.read("calibrationDays", typed);
    return days == Math.rint(days) ? (int) Math.max(Math.min(days, 1e6), -1) : -1;
  }

  private static ModelAndView page(
      ReviewSettings settings,
      Map<String, String> typed,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict,
      HttpStatus status) {
    ModelAndView page = new ModelAndView("review/settings", status);
    page.addObject("settings", settings);
    page.addObject("typed", typed);
    page.addObject("errors", errors);
    page.addObject("conflict", conflict);
    return page;
  }
}
