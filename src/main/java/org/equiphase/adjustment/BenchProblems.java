package org.equiphase.adjustment;

import java.util.List;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.touchstone.TouchstoneException;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;

/** Says on the bench page itself why something was refused, so that what was typed stays. */
@Component
class BenchProblems {

  record Said(List<String> messages, HttpStatus status) {}

  Said of(RuntimeException e) {
    if (e instanceof InvalidInputException invalid) {
      return new Said(
          invalid.problems().stream().map(p -> p.field() + " " + p.message()).toList(),
          HttpStatus.BAD_REQUEST);
    }
    if (e instanceof InvalidQuantityException || e instanceof TouchstoneException) {
      return new Said(List.of(String.valueOf(e.getMessage())), HttpStatus.BAD_REQUEST);
    }
    if (e instanceof ConflictException) {
      return new Said(List.of(String.valueOf(e.getMessage())), HttpStatus.CONFLICT);
    }
    if (e instanceof NotFoundException) {
      return new Said(List.of(String.valueOf(e.getMessage())), HttpStatus.NOT_FOUND);
    }
    throw e;
  }
}
