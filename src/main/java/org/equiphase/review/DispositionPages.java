package org.equiphase.review;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where QA signs a decision, and reads it afterwards. */
@Controller
@RequestMapping("/review/dispositions")
class DispositionPages {

  private static final int MOST_PENDING = 50;

  private final Dispositions dispositions;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final Catalog catalog;
  private final ReviewRules rules;

  DispositionPages(
      Dispositions dispositions,
      WorkOrders workOrders,
      Readings readings,
      Catalog catalog,
      ReviewRules rules) {
    this.dispositions = dispositions;
    this.workOrders = workOrders;
    this.readings = readings;
    this.catalog = catalog;
    this.rules = rules;
  }

  /** The decisions that wait longest for a second signature. */
  @GetMapping
  String pending(Model model) {
    model.addAttribute("pending", dispositions.pending(MOST_PENDING));
    model.addAttribute("count", dispositions.pendingCount());
    return "review/dispositions";
  }

  /** The form of one kind of decision; its terms may be given, as an option computed them. */
  @GetMapping("/new")
  ModelAndView form(@ModelAttribute DispositionForm form) {
    return form(form, HttpStatus.OK, Map.of(), null);
  }

  @PostMapping
  ModelAndView decide(
      @ModelAttribute DispositionForm form, @RequestParam(defaultValue = "") String password) {
    try {
      dispositions.decide(form.draft(), password);
    } catch (InvalidInputException e) {
      return form(form, HttpStatus.BAD_REQUEST, e.byField(), null);
    } catch (ConflictException e) {
      return form(form, HttpStatus.CONFLICT, Map.of(), e.words());
    }
    return new ModelAndView("redirect:/review/cases/{serial}", Map.of("serial", form.serial()));
  }

  @GetMapping("/{id}")
  ModelAndView disposition(@PathVariable long id) {
    return disposition(id, HttpStatus.OK, Map.of(), null, "");
  }

  @PostMapping("/{id}/signatures")
  ModelAndView countersign(
      @PathVariable long id,
      @RequestParam boolean agrees,
      @RequestParam(defaultValue = "") String text,
      @RequestParam(defaultValue = "") String password) {
    try {
      dispositions.countersign(id, agrees, text, password);
    } catch (InvalidInputException e) {
      return disposition(id, HttpStatus.BAD_REQUEST, e.byField(), null, text);
    } catch (ConflictException e) {
      return disposition(id, HttpStatus.CONFLICT, Map.of(), e.words(), text);
    }
    return new ModelAndView("redirect:/review/dispositions/{id}", Map.of("id", id));
  }

  private ModelAndView form(
      DispositionForm form,
      HttpStatus status,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict) {
    Assembly assembly = workOrders.assemblyBySerial(form.serial());
    Optional<Reading> latest = readings.latest(assembly.id());
    List<Disposition> before = dispositions.of(assembly.id());
    ModelAndView page = new ModelAndView("review/decide", status);
    page.addObject("form", form);
    Kind kind = Objects.requireNonNullElse(form.kind(), Kind.REMEASURE);
    page.addObject("kind", kind);
    page.addObject("kinds", Kind.values());
    page.addObject("reasonCodes", ReasonCode.values());
    page.addObject("assembly", assembly);
    page.addObject("order", workOrders.order(assembly.workOrderId()));
    page.addObject("set", assembly.setId() == null ? null : workOrders.set(assembly.setId()));
    page.addObject("reading", latest.orElse(null));
    page.addObject("stretchers", catalog.lineStretchers());
    page.addObject("before", before);
    List<Disposition> about = before.stream().filter(d -> d.assemblyId() == assembly.id()).toList();
    page.addObject("newest", about.stream().findFirst().orElse(null));
    page.addObject("standing", about.stream().filter(Disposition::stands).findFirst().orElse(null));
    page.addObject("twoPersons", rules.settings().needsSecond(kind));
    page.addObject("errors", errors);
    page.addObject("conflict", conflict);
    try {
      page.addObject("numbers", dispositions.preview(assembly, kind));
    } catch (ConflictException e) {
      page.addObject("forbidden", e.words());
    }
    return page;
  }

  private ModelAndView disposition(
      long id,
      HttpStatus status,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict,
      String text) {
    Disposition disposition = dispositions.disposition(id);
    ModelAndView page = new ModelAndView("review/disposition", status);
    page.addObject("d", disposition);
    page.addObject("numbers", disposition.observed());
    page.addObject("stretcher", stretcher(disposition.terms().lineStretcherId()));
    page.addObject("errors", errors);
    page.addObject("conflict", conflict);
    page.addObject("text", text);
    return page;
  }

  private @Nullable String stretcher(@Nullable Long id) {
    return id == null ? null : catalog.lineStretcher(id).name();
  }
}
