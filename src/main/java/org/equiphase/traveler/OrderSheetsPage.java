package org.equiphase.traveler;

import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** What goes to the floor with an order: its route, its travelers as one file, its labels. */
@Controller
@RequestMapping("/traveler/workorders/{number}")
class OrderSheetsPage {

  private final WorkOrders workOrders;
  private final Routes routes;

  OrderSheetsPage(WorkOrders workOrders, Routes routes) {
    this.workOrders = workOrders;
    this.routes = routes;
  }

  @GetMapping
  ModelAndView show(@PathVariable String number) {
    return page(number, null, HttpStatus.OK);
  }

  @PostMapping("/route")
  ModelAndView choose(
      @PathVariable String number, @RequestParam long routeId, @RequestParam int version) {
    try {
      routes.choose(number, routeId, version);
    } catch (ConflictException e) {
      return page(number, e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/traveler/workorders/{number}", "number", number);
  }

  private ModelAndView page(String number, @Nullable Sentence said, HttpStatus status) {
    WorkOrder order = workOrders.orderByNumber(number);
    Routes.OfOrder chosen = routes.ofOrder(order.id());
    return new ModelAndView("traveler/order", status)
        .addObject("order", order)
        .addObject("chosen", chosen)
        .addObject(
            "routes",
            routes.all().stream()
                .filter(r -> !r.retired() || r.id() == chosen.route().id())
                .toList())
        .addObject("sets", workOrders.setsOf(order.id()))
        .addObject("layouts", LabelLayout.values())
        .addObject("said", said);
  }
}
