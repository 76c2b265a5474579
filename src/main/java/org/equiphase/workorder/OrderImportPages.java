package org.equiphase.workorder;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.TableFile;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;

/** Orders from a file: upload it, look at what it would become, create the orders. */
@Controller
@RequestMapping("/workorders/imports")
class OrderImportPages {

  private final OrderImports imports;
  private final Catalog catalog;

  OrderImportPages(OrderImports imports, Catalog catalog) {
    this.imports = imports;
    this.catalog = catalog;
  }

  @GetMapping
  ModelAndView blank() {
    return blank(List.of(), HttpStatus.OK);
  }

  private static ModelAndView blank(List<Sentence> messages, HttpStatus status) {
    ModelAndView page = new ModelAndView("workorder/import");
    page.setStatus(status);
    return page.addObject("messages", messages)
        .addObject("headings", OrderSheet.headings())
        .addObject("templates", OrderTemplate.values())
        .addObject("serialExample", SerialPattern.EXAMPLE)
        .addObject("mostRows", Integer.toString(TableFile.MOST_ROWS));
  }

  @PostMapping
  ModelAndView upload(@RequestParam("file") MultipartFile file) throws IOException {
    String name = file.getOriginalFilename();
    try {
      long id = imports.upload(name == null ? "" : name, file.getBytes());
      return new ModelAndView("redirect:/workorders/imports/{id}", Map.of("id", id));
    } catch (InvalidInputException e) {
      return blank(
          e.problems().stream()
              .map(problem -> Sentence.of("sheet.problem", problem.message()))
              .toList(),
          HttpStatus.BAD_REQUEST);
    }
  }

  @GetMapping("/{id}")
  ModelAndView preview(@PathVariable long id) {
    return preview(imports.uploaded(id), List.of(), HttpStatus.OK);
  }

  private ModelAndView preview(
      OrderImports.Upload upload, List<Sentence> messages, HttpStatus status) {
    ModelAndView page = new ModelAndView("workorder/import-preview");
    page.setStatus(status);
    return page.addObject("upload", upload)
        .addObject("messages", messages)
        .addObject("preview", imports.preview(upload.content()));
  }

  @PostMapping("/{id}")
  ModelAndView store(@PathVariable long id, @RequestParam int version) {
    try {
      List<WorkOrder> orders = imports.store(id, version);
      return orders.size() == 1
          ? new ModelAndView("redirect:/workorders/{number}", "number", orders.get(0).number())
          : new ModelAndView("redirect:/workorders");
    } catch (InvalidInputException e) {
      return preview(
          imports.uploaded(id),
          List.of(Sentence.of("orderfile.changedSince")),
          HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return preview(imports.uploaded(id), List.of(e.words()), HttpStatus.CONFLICT);
    }
  }

  /** Two invented orders, for a cable type that the shop has. */
  @GetMapping("/example.csv")
  ResponseEntity<byte[]> example() {
    String cable =
        Table.guarded(
            catalog.cableTypes().stream().map(CableType::name).findFirst().orElse("a cable type"));
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(
          "order",
          "title",
          "due",
          "template",
          "cable_type",
          "cable_lot",
          "connector",
          "nominal_length_mm",
          "nominal_length_tolerance_mm",
          "trim_allowance_mm",
          "cut_uncertainty_mm",
          "frequency_mhz",
          "tolerance_deg",
          "set",
          "position",
          "serial",
          "offset_phase_deg");
      printer.printRecord(
          "EX-1",
          "Feed set (invented)",
          "2027-03-31",
          "WIDE_BAND",
          cable,
          "LOT-1",
          "SMA",
          "1200",
          "12",
          "20",
          "0.1",
          "2700 2800 2900",
          "3",
          "A",
          "CH{1..8}",
          "EX1-A-{001..008}",
          "");
      printer.printRecord(
          "EX-2",
          "Row feeds (invented)",
          "2027-03-31",
          "STAGGERED_OFFSETS",
          cable,
          "LOT-1",
          "SMA",
          "800",
          "8",
          "15",
          "0.1",
          "2800",
          "2.5",
          "A",
          "ROW1",
          "EX2-001",
          "0");
      printer.printRecord(
          "EX-2", "", "", "", "", "", "", "", "", "", "", "", "", "A", "ROW2", "EX2-002", "-22.5");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return FileAnswer.csv("orders-example", text.toString().getBytes(StandardCharsets.UTF_8));
  }
}
