package org.equiphase.traveler;

import java.util.List;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** The planner's routes: all of them, one to change, and a new one. */
@Controller
@RequestMapping("/traveler/routes")
class RoutePages {

  private final Routes routes;

  RoutePages(Routes routes) {
    this.routes = routes;
  }

  @GetMapping
  ModelAndView routes() {
    return new ModelAndView("traveler/routes").addObject("routes", routes.all());
  }

  @GetMapping("/new")
  ModelAndView blank() {
    return form(null, RouteForm.blank(), List.of(), HttpStatus.OK);
  }

  @GetMapping("/{id}")
  ModelAndView route(@PathVariable long id) {
    Route route = routes.route(id);
    return form(route, RouteForm.of(route), List.of(), HttpStatus.OK);
  }

  @PostMapping
  ModelAndView create(@RequestParam MultiValueMap<String, String> typed) {
    RouteForm form = RouteForm.of(typed);
    try {
      routes.create(form.read());
    } catch (InvalidInputException e) {
      return form(null, form, form.said(e), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return form(null, form, List.of(e.words()), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/traveler/routes");
  }

  @PostMapping("/{id}")
  ModelAndView change(
      @PathVariable long id,
      @RequestParam int version,
      @RequestParam MultiValueMap<String, String> typed) {
    RouteForm form = RouteForm.of(typed);
    Route route = routes.route(id);
    try {
      routes.change(id, version, form.read());
    } catch (InvalidInputException e) {
      return form(route, form, form.said(e), HttpStatus.BAD_REQUEST).addObject("version", version);
    } catch (ConflictException e) {
      return form(route, form, List.of(e.words()), HttpStatus.CONFLICT)
          .addObject("version", version);
    }
    return new ModelAndView("redirect:/traveler/routes");
  }

  @PostMapping("/{id}/retirement")
  ModelAndView retire(
      @PathVariable long id, @RequestParam int version, @RequestParam boolean retired) {
    Route route = routes.route(id);
    try {
      routes.retire(id, version, retired);
    } catch (ConflictException e) {
      return form(route, RouteForm.of(route), List.of(e.words()), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/traveler/routes");
  }

  private static ModelAndView form(
      @Nullable Route route, RouteForm form, List<Sentence> messages, HttpStatus status) {
    return new ModelAndView("traveler/route", status)
        .addObject("route", route)
        .addObject("version", route == null ? 0 : route.version())
        .addObject("form", form)
        .addObject("messages", messages)
        .addObject("kinds", StepKind.values());
  }
}
