package org.equiphase.web;

import jakarta.servlet.http.HttpServletRequest;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What the page frame needs to know: which entry of the navigation is the present one. */
@ControllerAdvice(annotations = Controller.class)
class FrameModel {

  @ModelAttribute("currentPath")
  String currentPath(HttpServletRequest request) {
    return request.getServletPath();
  }
}
