package org.equiphase.release;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.net.URI;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Releases of sets for machine clients. */
@RestController
@RequestMapping(ReleaseApi.PATH)
@Tag(name = "Releases")
class ReleaseApi {

  static final String PATH = "/api/v1/release";

  private final Releases releases;

  ReleaseApi(Releases releases) {
    this.releases = releases;
  }

  record ReleaseRequest(
      @Nullable String password, @Nullable String remark, @Nullable String seenSha256) {}

  record WithdrawalRequest(@Nullable String password, @Nullable String reason) {}

  /** A set before its release, with the releases that it had. */
  record SetStanding(
      long setId,
      List<Hindrance> hindrances,
      CertifiedSet certified,
      String sha256,
      List<SetRelease> releases) {}

  @GetMapping
  @Operation(summary = "Releases by a part of the certificate's or the order's number")
  List<SetRelease> find(@RequestParam(defaultValue = "") String number) {
    return releases.find(number);
  }

  @GetMapping("/sets/{setId}")
  @Operation(summary = "What hinders the release of a set, and what its certificate would say")
  SetStanding set(@PathVariable long setId) {
    Releases.Outlook outlook = releases.outlook(setId);
    return new SetStanding(
        setId, outlook.hindrances(), outlook.certified(), outlook.sha256(), releases.ofSet(setId));
  }

  @PostMapping("/sets/{setId}")
  @Operation(
      summary = "Release a set",
      description =
          "Signs with the password. With seenSha256, refused where the numbers are no longer those"
              + " that had this hash.")
  ResponseEntity<SetRelease> release(
      @PathVariable long setId, @RequestBody ReleaseRequest request) {
    SetRelease release =
        releases.release(
            setId, orEmpty(request.password), orEmpty(request.remark), request.seenSha256);
    return ResponseEntity.created(URI.create(PATH + "/" + release.id())).body(release);
  }

  @GetMapping("/{id}")
  @Operation(summary = "One release, with its certificate")
  SetRelease one(@PathVariable long id) {
    return releases.release(id);
  }

  @GetMapping("/{id}/check")
  @Operation(summary = "Compute the hash anew and compare the data with the rows behind them")
  ReleaseCheck check(@PathVariable long id) {
    return releases.check(id);
  }

  @PostMapping("/{id}/withdrawal")
  @Operation(summary = "Take a release back; the set is open again")
  SetRelease withdraw(@PathVariable long id, @RequestBody WithdrawalRequest request) {
    return releases.withdraw(id, orEmpty(request.password), orEmpty(request.reason));
  }

  private static String orEmpty(@Nullable String text) {
    return text == null ? "" : text;
  }
}
