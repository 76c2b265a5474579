package org.equiphase.workbook;

import static org.equiphase.web.Require.present;

import io.swagger.v3.oas.annotations.tags.Tag;
import java.io.IOException;
import java.util.Objects;
import org.equiphase.workbook.Uploads.Preview;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Filled-in workbooks for machine clients. */
@RestController
@RequestMapping("/api/v1/workorders/{number}/workbook")
@Tag(name = "Workbooks")
class WorkbookApi {

  private final Uploads uploads;

  WorkbookApi(Uploads uploads) {
    this.uploads = uploads;
  }

  record StoreRequest(@Nullable String digest) {}

  /** Uploads a filled-in workbook; the answer tells what storing it would do. */
  @PostMapping(consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  @ResponseStatus(HttpStatus.CREATED)
  Preview upload(@PathVariable String number, @RequestPart MultipartFile file) throws IOException {
    String name = Objects.requireNonNullElse(file.getOriginalFilename(), "");
    return uploads.preview(number, uploads.upload(number, name, file.getBytes()).id());
  }

  /** What storing an uploaded workbook would do now. */
  @GetMapping("/{id}")
  Preview preview(@PathVariable String number, @PathVariable long id) {
    return uploads.preview(number, id);
  }

  /** Stores what the preview of this digest shows as to be stored, all or nothing. */
  @PostMapping("/{id}/store")
  Preview store(
      @PathVariable String number, @PathVariable long id, @RequestBody StoreRequest request) {
    return uploads.store(number, id, present("digest", request.digest));
  }
}
