package org.equiphase.workorder;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.catalog.Catalog;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
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

/** The planner's orders: all of them, one of them, a new one, a copy, and the next revision. */
@Controller
@RequestMapping("/workorders")
class WorkOrderPages {

  private final WorkOrders workOrders;
  private final OrderRevisions revisions;
  private final Catalog catalog;

  WorkOrderPages(WorkOrders workOrders, OrderRevisions revisions, Catalog catalog) {
    this.workOrders = workOrders;
    this.revisions = revisions;
    this.catalog = catalog;
  }

  /** How many assemblies of something stand where. */
  record Progress(int total, Map<AssemblyState, Long> counts) {

    static Progress of(List<Assembly> assemblies) {
      Map<AssemblyState, Long> counts =
          assemblies.stream()
              .collect(
                  Collectors.groupingBy(
                      Assembly::state,
                      () -> new EnumMap<>(AssemblyState.class),
                      Collectors.counting()));
      return new Progress(assemblies.size(), counts);
    }
  }

  record OrderRow(WorkOrder order, int sets, long matchedSets, Progress progress) {}

  record SetRow(MatchedSet set, Progress progress) {}

  /** The cable that an order takes, or why that can't be told. */
  record CableView(
      String kerfMm, String wastePercent, @Nullable CableNeed need, @Nullable Sentence problem) {}

  @GetMapping
  String orders(Model model) {
    List<OrderRow> rows = new ArrayList<>();
    for (WorkOrder order : workOrders.orders()) {
      List<MatchedSet> sets = workOrders.setsOf(order.id());
      rows.add(
          new OrderRow(
              order,
              sets.size(),
              sets.stream().filter(s -> s.matchedAt() != null).count(),
              Progress.of(workOrders.assembliesOf(order.id()))));
    }
    model.addAttribute("rows", rows);
    return "workorder/orders";
  }

  @GetMapping("/{number}")
  String order(
      @PathVariable String number,
      @RequestParam(required = false) @Nullable String kerfMm,
      @RequestParam(required = false) @Nullable String wastePercent,
      Model model) {
    WorkOrder order = workOrders.orderByNumber(number);
    List<Assembly> assemblies = workOrders.assembliesOf(order.id());
    model.addAttribute("order", order);
    model.addAttribute("cableType", catalog.cableType(order.specification().cableTypeId()));
    Long stretcherId = order.specification().lineStretcherId();
    model.addAttribute(
        "stretcher", stretcherId == null ? null : catalog.lineStretcher(stretcherId));
    List<MatchedSet> sets = workOrders.setsOf(order.id());
    model.addAttribute(
        "sets",
        sets.stream()
            .map(set -> new SetRow(set, Progress.of(workOrders.members(set.id()))))
            .toList());
    model.addAttribute("released", sets.stream().anyMatch(set -> set.releasedAt() != null));
    model.addAttribute("progress", Progress.of(assemblies));
    model.addAttribute("pool", assemblies.stream().filter(a -> a.positionId() == null).toList());
    model.addAttribute("revisions", revisions.of(order.id()));
    model.addAttribute("cable", cable(order, kerfMm, wastePercent));
    return "workorder/order";
  }

  private CableView cable(WorkOrder order, @Nullable String kerfMm, @Nullable String wastePercent) {
    String kerf = kerfMm == null ? OrderForm.shown(CableNeed.USUAL_KERF_MM) : kerfMm;
    String waste =
        wastePercent == null ? OrderForm.shown(CableNeed.USUAL_WASTE_PERCENT) : wastePercent;
    try {
      double kerfIs = Numbers.read("kerfMm", kerf);
      double wasteIs = Numbers.read("wastePercent", waste);
      return new CableView(kerf, waste, workOrders.cableNeed(order, kerfIs, wasteIs), null);
    } catch (InvalidInputException e) {
      return new CableView(kerf, waste, null, FormProblems.of(e.problems()).all().get(0).words());
    } catch (InvalidQuantityException e) {
      return new CableView(kerf, waste, null, Sentence.of("order.noFirstCut"));
    }
  }

  @GetMapping("/new")
  ModelAndView blank(
      @RequestParam(required = false) @Nullable OrderTemplate template,
      @RequestParam(required = false) @Nullable String copy) {
    if (copy != null) {
      return copied(workOrders.orderByNumber(copy));
    }
    OrderForm form = template == null ? OrderForm.blank() : OrderForm.of(template);
    return form(form, FormProblems.NONE, HttpStatus.OK).addObject("template", template);
  }

  private ModelAndView copied(WorkOrder order) {
    long pool =
        workOrders.assembliesOf(order.id()).stream()
            .filter(a -> a.positionId() == null && !a.isGone())
            .count();
    OrderForm form =
        OrderForm.copy(
            order, workOrders.setsOf(order.id()), workOrders.serialAtPosition(order.id()));
    return form(form, FormProblems.NONE, HttpStatus.OK)
        .addObject("copied", order.number())
        .addObject("poolOfCopied", pool);
  }

  @PostMapping
  ModelAndView create(@ModelAttribute OrderForm form) {
    TypedOrder typed = form.read();
    List<FieldProblem> problems = typed.problems(workOrders);
    if (!problems.isEmpty()) {
      return form(form, FormProblems.of(problems), HttpStatus.BAD_REQUEST);
    }
    WorkOrder order = workOrders.create(typed.draft());
    return new ModelAndView("redirect:/workorders/{number}", "number", order.number());
  }

  @GetMapping("/{number}/revise")
  ModelAndView revising(@PathVariable String number) {
    WorkOrder order = workOrders.orderByNumber(number);
    OrderForm form =
        OrderForm.toRevise(
            order, workOrders.setsOf(order.id()), workOrders.serialAtPosition(order.id()));
    return revising(order, order.version(), form, "", FormProblems.NONE, HttpStatus.OK);
  }

  @PostMapping("/{number}/revise")
  ModelAndView revise(
      @PathVariable String number,
      @RequestParam int version,
      @RequestParam String reason,
      @ModelAttribute OrderForm form) {
    WorkOrder order = workOrders.orderByNumber(number);
    TypedOrder typed = form.read();
    try {
      if (!typed.unread().isEmpty()) {
        throw new InvalidInputException(typed.unread());
      }
      OrderDraft draft = typed.draft();
      revisions.revise(
          order.id(),
          version,
          new RevisionDraft(
              draft.title(),
              draft.dueOn(),
              draft.specification(),
              form.positions().isBlank() ? null : draft.sets(),
              draft.cableLot(),
              reason.strip()));
      return new ModelAndView("redirect:/workorders/{number}", "number", number);
    } catch (InvalidInputException e) {
      List<FieldProblem> placed = e.problems().stream().map(typed::placed).toList();
      return revising(
          order, version, form, reason, FormProblems.of(placed), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return revising(
          order, version, form, reason, FormProblems.of(e.words()), HttpStatus.CONFLICT);
    }
  }

  private ModelAndView form(OrderForm form, FormProblems problems, HttpStatus status) {
    return filled("workorder/form", form, problems, status)
        .addObject("templates", OrderTemplate.values());
  }

  private ModelAndView revising(
      WorkOrder order,
      int version,
      OrderForm form,
      String reason,
      FormProblems problems,
      HttpStatus status) {
    return filled("workorder/revise", form, problems, status)
        .addObject("order", order)
        .addObject("version", version)
        .addObject("reason", reason)
        .addObject("next", OrderRevisions.next(order.revision()));
  }

  private ModelAndView filled(
      String view, OrderForm form, FormProblems problems, HttpStatus status) {
    return new ModelAndView(view, status)
        .addObject("form", form)
        .addObject("problems", problems.all())
        .addObject("beside", problems.beside())
        .addObject("serialExample", SerialPattern.EXAMPLE)
        .addObject("labelExample", SerialPattern.LABEL_EXAMPLE)
        .addObject("cableTypes", catalog.cableTypes())
        .addObject("lineStretchers", catalog.lineStretchers());
  }
}
