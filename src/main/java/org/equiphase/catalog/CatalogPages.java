package org.equiphase.catalog;

import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The catalog's overview, and one form page for every kind of entry. */
@Controller
@RequestMapping("/catalog")
class CatalogPages {
  private static final String FORM = "catalog/form";

  private final Catalog catalog;
  private final Clock clock;
  private final Map<String, EntryForm<?>> formByPath;

  CatalogPages(Catalog catalog, Clock clock, List<EntryForm<?>> forms) {
    this.catalog = catalog;
    this.clock = clock;
    this.formByPath =
        forms.stream().collect(Collectors.toMap(EntryForm::path, Function.identity()));
  }

  @GetMapping
  String overview(Model model) {
    model.addAttribute("cableTypes", catalog.cableTypes());
    model.addAttribute("endStandards", catalog.endStandards());
    model.addAttribute("adapters", catalog.adapters());
    model.addAttribute("lineStretchers", catalog.lineStretchers());
    model.addAttribute("instruments", catalog.instruments());
    model.addAttribute("benches", catalog.benches());
    model.addAttribute("text", new OverviewTexts(LocalDate.now(clock)));
    return "catalog/overview";
  }

  @GetMapping("/{path}/new")
  String blank(@PathVariable String path, Model model) {
    EntryForm<?> form = form(path);
    model.addAttribute("page", page(form, 0, 0, form.blank(), Map.of(), List.of()));
    return FORM;
  }

  @GetMapping("/{path}/{id}")
  String stored(@PathVariable String path, @PathVariable long id, Model model) {
    model.addAttribute("page", storedPage(form(path), id));
    return FORM;
  }

  @PostMapping("/{path}")
  String add(
      @PathVariable String path,
      @RequestParam MultiValueMap<String, String> typed,
      Model model,
      HttpServletResponse response,
      RedirectAttributes redirect) {
    return save(form(path), 0, 0, typed, model, response, redirect);
  }

  @PostMapping("/{path}/{id}")
  String change(
      @PathVariable String path,
      @PathVariable long id,
      @RequestParam int version,
      @RequestParam MultiValueMap<String, String> typed,
      Model model,
      HttpServletResponse response,
      RedirectAttributes redirect) {
    return save(form(path), id, version, typed, model, response, redirect);
  }

  private <T extends CatalogEntry> String save(
      EntryForm<T> form,
      long id,
      int version,
      MultiValueMap<String, String> typed,
      Model model,
      HttpServletResponse response,
      RedirectAttributes redirect) {
    try {
      T saved = form.save(id, version, new FormReader(typed, new DraftProblems()));
      redirect.addFlashAttribute(
          "saved",
          Sentence.of(
              "catalog.stored",
              NotFoundException.kind(form.noun()),
              saved.name(),
              saved.version()));
      return "redirect:/catalog#" + form.path();
    } catch (InvalidInputException e) {
      response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
      List<Sentence> meaning = id == 0 ? List.of() : form.meaning(form.get(id));
      model.addAttribute("page", page(form, id, version, typed, e.byField(), meaning));
    } catch (ConflictException e) {
      response.setStatus(HttpServletResponse.SC_CONFLICT);
      T stored = form.get(id);
      List<Field> fields = form.fields();
      model.addAttribute(
          "page",
          new FormPage(
              title(form, stored),
              form.path(),
              id,
              stored.version(),
              fields,
              typed,
              Map.of(),
              form.meaning(stored),
              e.words(),
              FormPage.differences(fields, typed, form.texts(stored))));
    }
    return FORM;
  }

  private static <T extends CatalogEntry> FormPage storedPage(EntryForm<T> form, long id) {
    T entry = form.get(id);
    return page(form, id, entry.version(), form.texts(entry), Map.of(), form.meaning(entry));
  }

  private static <T extends CatalogEntry> FormPage page(
      EntryForm<T> form,
      long id,
      int version,
      Map<String, List<String>> texts,
      Map<String, Sentence> errors,
      List<Sentence> meaning) {
    Sentence title =
        id == 0
            ? Sentence.of("catalog.newEntry", NotFoundException.kind(form.noun()))
            : title(form, form.get(id));
    return new FormPage(
        title, form.path(), id, version, form.fields(), texts, errors, meaning, null, List.of());
  }

  private static <T extends CatalogEntry> Sentence title(EntryForm<T> form, T entry) {
    Sentence heading = Sentence.of("catalog.heading." + form.noun().replace(' ', '-'));
    return Sentence.of("catalog.entry", heading, entry.name());
  }

  private EntryForm<?> form(String path) {
    EntryForm<?> form = formByPath.get(path);
    if (form == null) {
      throw new NotFoundException("catalog page", path);
    }
    return form;
  }
}
