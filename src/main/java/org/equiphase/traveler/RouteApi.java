package org.equiphase.traveler;

import static org.equiphase.web.Require.present;

import io.swagger.v3.oas.annotations.tags.Tag;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Instant;
import java.util.List;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Routes, and how far assemblies are on them, for machine clients. */
@RestController
@RequestMapping("/api/v1/traveler")
@Tag(name = "Travelers")
class RouteApi {

  private final Routes routes;
  private final Steps steps;
  private final WorkOrders workOrders;

  RouteApi(Routes routes, Steps steps, WorkOrders workOrders) {
    this.routes = routes;
    this.steps = steps;
    this.workOrders = workOrders;
  }

  /**
   * A changed route.
   *
   * @param version the one it was changed from
   * @param retired whether it is no longer offered to orders; null leaves that as it is
   */
  record RouteChange(
      @Nullable Integer version,
      @Nullable String name,
      @Nullable List<RouteDraft.StepDraft> steps,
      @Nullable Boolean retired) {}

  /** The route that an order shall take, and the version of the choice that this one follows. */
  record RouteChoice(@Nullable Long routeId, @Nullable Integer version) {}

  /** A code as a scanner reads it, and when the step was done; without that, now. */
  record Scan(@Nullable String code, @Nullable Instant doneAt) {}

  /** Why a sign-off is withdrawn. */
  record Withdrawal(@Nullable String reason) {}

  @GetMapping("/routes")
  List<Route> routes() {
    return routes.all();
  }

  @GetMapping("/routes/{id}")
  Route route(@PathVariable long id) {
    return routes.route(id);
  }

  @PostMapping("/routes")
  @ResponseStatus(HttpStatus.CREATED)
  Route create(@RequestBody RouteDraft route) {
    return routes.create(route);
  }

  @PutMapping("/routes/{id}")
  Route change(@PathVariable long id, @RequestBody RouteChange change) {
    int version = present("version", change.version);
    Route changed = routes.change(id, version, new RouteDraft(change.name, change.steps));
    return change.retired == null || change.retired == changed.retired()
        ? changed
        : routes.retire(id, changed.version(), change.retired);
  }

  @GetMapping("/workorders/{number}/route")
  Routes.OfOrder ofOrder(@PathVariable String number) {
    return routes.ofOrder(workOrders.orderByNumber(number).id());
  }

  @PutMapping("/workorders/{number}/route")
  Routes.OfOrder choose(@PathVariable String number, @RequestBody RouteChoice choice) {
    return routes.choose(
        number, present("routeId", choice.routeId), present("version", choice.version));
  }

  @GetMapping("/assemblies/{serial}/steps")
  List<StepState> steps(@PathVariable String serial) {
    return steps.of(serial).steps();
  }

  @PostMapping("/steps")
  Steps.SignedStep sign(@RequestBody Scan scan) {
    return steps.sign(present("code", scan.code), scan.doneAt);
  }

  /** Withdraws a sign-off: one's own, or as QA anyone's. Answers with the assembly's steps. */
  @PostMapping("/steps/{signOffId}/withdrawal")
  List<StepState> withdraw(
      @PathVariable long signOffId,
      @RequestBody Withdrawal withdrawal,
      HttpServletRequest request) {
    String reason = present("reason", withdrawal.reason);
    return steps.of(steps.withdraw(signOffId, reason, request.isUserInRole("QA"))).steps();
  }
}
