package org.equiphase.measurement;

import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Phases at single frequencies from a CSV file, recorded like typed ones.
 *
 * @param lines the line that each spot stands in, from 1
 * @param frequencyColumn the heading that the frequencies stand under
 */
record SpotFile(
    @Nullable String serial,
    @Nullable Double temperatureC,
    List<TypedSpot> spots,
    List<Long> lines,
    String frequencyColumn)
    implements MeasurementFile {

  private static final Pattern SPOT_FIELD = Pattern.compile("spots\\[(\\d+)]\\.(\\w+)");
  private static final Map<String, String> COLUMNS =
      Map.of(
          "phaseDeg", SpotFileReader.PHASE,
          "insertionLossDb", SpotFileReader.LOSS,
          "vswr", SpotFileReader.VSWR);

  SpotFile {
    spots = List.copyOf(spots);
    lines = List.copyOf(lines);
  }

  @Override
  public Reduction reduce(Reducer reducer, String serial, long benchId, double temperatureC) {
    try {
      return reducer.typed(new TypedReading(serial, benchId, null, temperatureC, null, spots));
    } catch (InvalidInputException e) {
      throw new InvalidInputException(e.problems().stream().map(this::inFile).toList());
    }
  }

  /** The problem of a spot as one of the file, by line and column. */
  private FieldProblem inFile(FieldProblem problem) {
    Matcher spot = SPOT_FIELD.matcher(problem.field());
    if (!spot.matches()) {
      return problem.field().equals("spots")
          ? new FieldProblem("file", problem.message())
          : problem;
    }
    long line = lines.get(Integer.parseInt(spot.group(1)));
    String column = COLUMNS.getOrDefault(spot.group(2), frequencyColumn);
    return new FieldProblem(
        "file", Sentence.of("files.csv.lineColumn", line, column, problem.message()));
  }
}
