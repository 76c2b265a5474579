package org.equiphase.workbook;

import java.io.IOException;
import java.util.Objects;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
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
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;

/** Take a filled-in workbook back: upload it, look at what would change, store it. */
@Controller
@RequestMapping("/workorders/{number}/workbook")
class WorkbookPages {

  private final Uploads uploads;
  private final WorkOrders workOrders;

  WorkbookPages(Uploads uploads, WorkOrders workOrders) {
    this.uploads = uploads;
    this.workOrders = workOrders;
  }

  @GetMapping
  ModelAndView uploads(@PathVariable String number) {
    return uploads(number, null, HttpStatus.OK);
  }

  private ModelAndView uploads(String number, @Nullable Sentence message, HttpStatus status) {
    WorkOrder order = workOrders.orderByNumber(number);
    ModelAndView page = new ModelAndView("workbook/uploads");
    page.setStatus(status);
    page.addObject("order", order);
    page.addObject("uploads", uploads.ofOrder(order.id()));
    page.addObject("message", message);
    return page;
  }

  @PostMapping
  ModelAndView upload(@PathVariable String number, @RequestParam MultipartFile file)
      throws IOException {
    try {
      String name = Objects.requireNonNullElse(file.getOriginalFilename(), "");
      Upload upload = uploads.upload(number, name, file.getBytes());
      ModelAndView preview = new ModelAndView("redirect:/workorders/{number}/workbook/{id}");
      preview.addObject("number", number);
      preview.addObject("id", upload.id());
      return preview;
    } catch (InvalidInputException e) {
      Sentence message = e.byField().values().iterator().next();
      return uploads(number, Sentence.of("sheet.problem", message), HttpStatus.BAD_REQUEST);
    }
  }

  @GetMapping("/{id}")
  ModelAndView preview(@PathVariable String number, @PathVariable long id) {
    return preview(number, id, null, HttpStatus.OK);
  }

  private ModelAndView preview(
      String number, long id, @Nullable Sentence message, HttpStatus status) {
    ModelAndView page = new ModelAndView("workbook/preview");
    page.setStatus(status);
    page.addObject("order", workOrders.orderByNumber(number));
    page.addObject("preview", uploads.preview(number, id));
    page.addObject("message", message);
    return page;
  }

  @PostMapping("/{id}")
  ModelAndView store(
      @PathVariable String number, @PathVariable long id, @RequestParam String digest) {
    try {
      uploads.store(number, id, digest);
    } catch (ConflictException e) {
      return preview(number, id, e.words(), HttpStatus.CONFLICT);
    }
    ModelAndView preview = new ModelAndView("redirect:/workorders/{number}/workbook/{id}");
    preview.addObject("number", number);
    preview.addObject("id", id);
    return preview;
  }
}
