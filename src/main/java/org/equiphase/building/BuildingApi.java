package org.equiphase.building;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.building.Drafts.Fit;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Building sets of an order's pool, for machine clients. */
@RestController
@RequestMapping("/api/v1/building/{number}")
class BuildingApi {

  private final Drafts drafts;
  private final BuildingView view;
  private final Arrangements arrangements;
  private final WorkOrders workOrders;

  BuildingApi(Drafts drafts, BuildingView view, Arrangements arrangements, WorkOrders workOrders) {
    this.drafts = drafts;
    this.view = view;
    this.arrangements = arrangements;
    this.workOrders = workOrders;
  }

  /** A position of the sets to be built. */
  record PositionRequest(
      @Nullable String label, @Nullable Double offsetPhaseDeg, @Nullable Double offsetDelayPs) {}

  /**
   * @param version of the draft seen last; absent or 0 for none
   * @param setSize may be left out where positions are given
   * @param without serials that take no part
   */
  record ProposalRequest(
      @Nullable Integer version,
      @Nullable Rule rule,
      @Nullable Integer setSize,
      @Nullable Integer wantedSets,
      @Nullable Double tolerancePercent,
      @Nullable Boolean cuts,
      @Nullable List<PositionRequest> positions,
      @Nullable List<String> without) {

    Ask ask() {
      List<SetPosition> read = new ArrayList<>();
      if (positions == null || positions.isEmpty()) {
        read.addAll(BuildingPages.positions(present("setSize", setSize), ""));
      } else {
        for (PositionRequest each : positions) {
          read.add(
              new SetPosition(
                  0,
                  read.size(),
                  present("positions[" + read.size() + "].label", each.label()).strip(),
                  each.offsetPhaseDeg() == null ? 0 : each.offsetPhaseDeg(),
                  each.offsetDelayPs() == null ? 0 : each.offsetDelayPs()));
        }
      }
      return new Ask(
          rule == null ? Rule.MOST_SETS : rule,
          wantedSets,
          tolerancePercent == null ? 100 : tolerancePercent,
          cuts != null && cuts,
          read);
    }
  }

  /**
   * @param toSet 0 for left over; absent exchanges the two serials
   */
  record MoveRequest(
      @Nullable Integer version, @Nullable List<String> serials, @Nullable Integer toSet) {}

  record FitRequest(@Nullable Integer version, @Nullable Fit fit) {}

  record AcceptRequest(@Nullable Integer version, @Nullable List<String> names) {}

  @GetMapping
  BuildingView.Shown show(@PathVariable String number) {
    return view.of(workOrders.orderByNumber(number));
  }

  @PostMapping("/proposals")
  BuildingView.Shown propose(@PathVariable String number, @RequestBody ProposalRequest request) {
    WorkOrder order = workOrders.orderByNumber(number);
    drafts.propose(
        order,
        request.version == null ? 0 : request.version,
        request.ask(),
        request.without == null ? List.of() : request.without);
    return view.of(order);
  }

  @PostMapping("/moves")
  BuildingView.Shown move(@PathVariable String number, @RequestBody MoveRequest request) {
    WorkOrder order = workOrders.orderByNumber(number);
    int version = present("version", request.version);
    List<String> serials = present("serials", request.serials);
    if (request.toSet == null) {
      drafts.exchange(order, version, serials);
    } else {
      drafts.move(order, version, serials, request.toSet);
    }
    return view.of(order);
  }

  @PostMapping("/positions")
  BuildingView.Shown assign(@PathVariable String number, @RequestBody FitRequest request) {
    WorkOrder order = workOrders.orderByNumber(number);
    drafts.assign(order, present("version", request.version), present("fit", request.fit));
    return view.of(order);
  }

  /** Makes the draft's sets sets of the order. */
  @PostMapping("/acceptance")
  @ResponseStatus(HttpStatus.CREATED)
  List<MatchedSet> accept(@PathVariable String number, @RequestBody AcceptRequest request) {
    return drafts.accept(
        workOrders.orderByNumber(number),
        present("version", request.version),
        present("names", request.names));
  }

  @GetMapping("/sets/{id}")
  Arrangements.Choice arrangement(@PathVariable String number, @PathVariable long id) {
    return arrangements.of(workOrders.orderByNumber(number), id);
  }

  /** Has the members of a set exchange their positions. */
  @PostMapping("/sets/{id}")
  MatchedSet exchange(
      @PathVariable String number, @PathVariable long id, @RequestBody FitRequest request) {
    return arrangements.exchange(
        workOrders.orderByNumber(number),
        id,
        present("version", request.version),
        present("fit", request.fit));
  }
}
