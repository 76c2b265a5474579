package org.equiphase.workorder;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.ModelAndView;

/** The planner's orders: all of them, one of them, and a new one. */
@Controller
@RequestMapping("/workorders")
class WorkOrderPages {

  private final WorkOrders workOrders;
  private final Catalog catalog;

  WorkOrderPages(WorkOrders workOrders, Catalog catalog) {
    this.workOrders = workOrders;
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
  String order(@PathVariable String number, Model model) {
    WorkOrder order = workOrders.orderByNumber(number);
    List<Assembly> assemblies = workOrders.assembliesOf(order.id());
    model.addAttribute("order", order);
    model.addAttribute("cableType", catalog.cableType(order.specification().cableTypeId()));
    Long stretcherId = order.specification().lineStretcherId();
    model.addAttribute(
        "stretcher", stretcherId == null ? null : catalog.lineStretcher(stretcherId));
    model.addAttribute(
        "sets",
        workOrders.setsOf(order.id()).stream()
            .map(set -> new SetRow(set, Progress.of(workOrders.members(set.id()))))
            .toList());
    model.addAttribute("progress", Progress.of(assemblies));
    model.addAttribute("pool", assemblies.stream().filter(a -> a.positionId() == null).toList());
    return "workorder/order";
  }

  @GetMapping("/new")
  ModelAndView blank() {
    return form(OrderForm.blank(), List.of(), HttpStatus.OK);
  }

  @PostMapping
  ModelAndView create(@ModelAttribute OrderForm form) {
    try {
      WorkOrder order = workOrders.create(form.read());
      return new ModelAndView("redirect:/workorders/{number}", "number", order.number());
    } catch (InvalidInputException e) {
      return form(
          form, e.problems().stream().map(WorkOrderPages::said).toList(), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return form(form, List.of(e.words()), HttpStatus.CONFLICT);
    }
  }

  /** A problem of a typed line says where it stands; other fields go by their names. */
  private static Sentence said(FieldProblem problem) {
    String[] place = problem.field().split("\\.", 3);
    return place.length == 3 && place[1].matches("\\d+")
        ? Sentence.of(
            "order.line." + place[0],
            place[1],
            Sentence.of("order.cell." + place[2]),
            problem.message())
        : Sentence.of("order.problem", problem.field(), problem.message());
  }

  private ModelAndView form(OrderForm form, List<Sentence> messages, HttpStatus status) {
    ModelAndView page = new ModelAndView("workorder/form");
    page.setStatus(status);
    page.addObject("form", form);
    page.addObject("messages", messages);
    page.addObject("cableTypes", catalog.cableTypes());
    page.addObject("lineStretchers", catalog.lineStretchers());
    return page;
  }
}
