package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Bad values, one at a time, in entries that are sound otherwise. */
@ExtendWith(RunningService.Extension.class)
class CatalogRulesTest {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final RunningService service;

  CatalogRulesTest(RunningService service) {
    this.service = service;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          name                    | "  "                 | is blank; give a text of at most 80 characters
          name                    | "a\\nb"              | has a line break
          velocityFactor          | 69.5                 | 69.5 looks like percent; give the factor, here 0.695
          velocityFactor          | 1.001                | 1.001 is out of range; give 0.1 to 1
          velocityFactor          | 0                    | 0 is out of range; give 0.1 to 1
          velocityFactor          | null                 | is missing; give a number
          velocityFactorTolerance | -0.001               | -0.001 is out of range; give 0 to 0.09
          impedanceOhm            | 0                    | 0 Ω is out of range; give 1 to 1000 Ω
          skinLossDbPerM          | -1                   | -1 dB/m is out of range
          dielectricLossDbPerM    | 1e300                | 1.0E300 dB/m is out of range
          temperatureCurve        | [{"temperatureC": 20, "lengthPpm": 0}] | has 1 points; give 2 to 150
          temperatureCurve        | [{"temperatureC": 20, "lengthPpm": 0}, {"temperatureC": 20, "lengthPpm": 1}] | point 2: 20 °C does not rise above the 20 °C before it
          temperatureCurve        | [{"temperatureC": 20, "lengthPpm": 0}, {"temperatureC": 19, "lengthPpm": 1}] | point 2: 19 °C does not rise
          temperatureCurve        | [{"temperatureC": -300, "lengthPpm": 0}, {"temperatureC": 19, "lengthPpm": 1}] | point 1: the temperature -300 °C is out of range
          temperatureCurve        | [{"temperatureC": 10, "lengthPpm": 0}, {"temperatureC": 19, "lengthPpm": 99999}] | point 2: the length change 99999 ppm is out of range
          temperatureCurve        | [{"temperatureC": 10, "lengthPpm": 0}, {"temperatureC": 19}] | point 2: the length change is missing
          temperatureCurve        | [{"temperatureC": 10, "lengthPpm": 0}, null] | point 2: the temperature is missing
          """)
  void cableType(String field, String value, String message) {
    refuses("cable-types", field, value, message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          airIndex       | 0.9999     | 0.9999 is out of range; give 1 to 1.01
          minMm          | 280        | maxMm: 280 mm is not above the smallest reading, 280 mm
          maxMm          | 1e5        | 100000 mm is out of range
          lockMinMm      | -1         | -1 mm is out of range; give 0 to 280 mm
          lockMaxMm      | 280.5      | 280.5 mm is out of range; give 0 to 280 mm
          lockMaxMm      | 2          | 2 mm is not above the smallest locking reading, 2 mm
          resolutionMm   | 0          | 0 mm is out of range; give more than 0
          resolutionMm   | 300        | 300 mm is out of range; give more than 0 and at most 276 mm
          calibrationDue | "0202-01-01" | 0202-01-01 is out of range
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}] | has 1 points
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}, {"readingMm": 0, "electricalLengthMm": 2}, {"readingMm": 280, "electricalLengthMm": 3}] | point 2: the reading 0 mm does not rise above the 0 mm before it
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}, {"readingMm": 9, "electricalLengthMm": 1}, {"readingMm": 280, "electricalLengthMm": 3}] | point 2: the electrical length 1 mm follows 1 mm; it must rise
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}, {"readingMm": 9, "electricalLengthMm": 5}, {"readingMm": 280, "electricalLengthMm": 3}] | point 3: the electrical length 3 mm follows 5 mm
          calibration    | [{"readingMm": 0, "electricalLengthMm": 5}, {"readingMm": 9, "electricalLengthMm": 2}, {"readingMm": 280, "electricalLengthMm": 3}] | point 3: the electrical length 3 mm follows 2 mm
          calibration    | [{"readingMm": 1, "electricalLengthMm": 1}, {"readingMm": 280, "electricalLengthMm": 3}] | runs from 1 to 280 mm but the scale from 0 to 280 mm
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}, {"readingMm": 279, "electricalLengthMm": 3}] | runs from 0 to 279 mm but
          calibration    | [{"readingMm": 0, "electricalLengthMm": 1}, {"readingMm": 281, "electricalLengthMm": 3}] | point 2: the reading 281 mm is out of range
          """)
  void lineStretcher(String field, String value, String message) {
    refuses("line-stretchers", field, value, message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          end-standards | offsetDelayPs               | -1            | -1 ps is out of range; give 0 to 10000 ps
          end-standards | offsetLossDb                | 11            | 11 dB is out of range
          end-standards | coefficients                | [1, 2, 3]     | has 3 coefficients; give four
          end-standards | coefficients                | [1, 2, 3, 4, 5] | has 5 coefficients; give four
          end-standards | coefficients                | [1, 2e9, 3, 4] | coefficients[1]: 2000000000 is out of range
          end-standards | coefficients                | [1, 2, null, 4] | coefficients[2]: is not a number
          end-standards | kind                        | "LOAD"        | "LOAD" is not one of SHORT, OPEN
          adapters      | delayPs                     | 200000        | 200000 ps is out of range
          adapters      | lossDbAt1Ghz                | -0.1          | -0.1 dB is out of range; give 0 to 20 dB
          adapters      | lossDbAt1Ghz                | "0.1"         | "0.1" is not a number
          instruments   | serialNumber                | ""            | is blank
          instruments   | phaseStandardUncertaintyDeg | 0             | 0 ° is out of range; give more than 0 and at most 45 °
          instruments   | calibrationDue              | null          | is missing; give a day such as 2027-03-31
          instruments   | calibrationDue              | "2150-01-01"  | 2150-01-01 is out of range
          benches       | instrumentId                | 999999999     | there is no instrument 999999999; give one from the catalog
          benches       | endStandardId               | 999999999     | there is no end standard 999999999
          benches       | adapterIds                  | [999999999]   | there is no adapter 999999999
          benches       | adapterIds                  | [null]        | there is no adapter 0
          benches       | driftLimitDeg               | 0             | 0 ° is out of range; give more than 0
          benches       | referenceIntervalMin        | 0             | 0 min is out of range; give 1 to 10080 min
          """)
  void others(String path, String field, String value, String message) {
    refuses(path, field, value, message);
  }

  @Test
  void aBenchNamesAnAdapterOnce() {
    long adapter = Sample.of("adapters", service).store(service);
    refuses(
        "benches", "adapterIds", "[%d,%d]".formatted(adapter, adapter), "names the same adapter");
  }

  @Test
  void aNoteHasAnEnd() {
    refuses(
        "adapters", "note", "\"" + "x".repeat(1001) + "\"", "has 1001 characters; at most 1000");
    refuses("adapters", "name", "\"" + "x".repeat(81) + "\"", "has 81 characters; at most 80");
  }

  @Test
  void limitsThemselvesAreAccepted() {
    Sample cable = Sample.of("cable-types", service);
    HttpResponse<String> vacuum =
        Sample.api(service).post(cable.api(), cable.jsonWith("velocityFactor", 1));
    assertThat(vacuum.statusCode()).as(vacuum.body()).isEqualTo(201);
    Sample stretcher = Sample.of("line-stretchers", service);
    HttpResponse<String> whole =
        Sample.api(service).post(stretcher.api(), stretcher.jsonWith("lockMaxMm", 280));
    assertThat(whole.statusCode()).as(whole.body()).isEqualTo(201);
  }

  /** A scale may count down as the line is drawn out. */
  @Test
  void aCalibrationTableMayFall() {
    Sample stretcher = Sample.of("line-stretchers", service);
    JsonNode table =
        JSON.readTree(
            """
            [{"readingMm": 0, "electricalLengthMm": 560}, {"readingMm": 280, "electricalLengthMm": 0}]
            """);
    HttpResponse<String> answer =
        Sample.api(service).post(stretcher.api(), stretcher.jsonWith("calibration", table));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
  }

  private void refuses(String path, String field, String value, String message) {
    Sample sample = Sample.of(path, service);
    HttpResponse<String> answer =
        Sample.api(service).post(sample.api(), sample.jsonWith(field, JSON.readTree(value)));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
    JsonNode error = ApiClient.json(answer).get("errors").get(0);
    // An expectation that starts with a field and a colon names the field that gets the blame.
    boolean other = message.matches("\\w+(\\[\\d])?: .*");
    String text = error.get("message").asString();
    assertThat(other ? error.get("field").asString() + ": " + text : text).startsWith(message);
    if (!other) {
      assertThat(error.get("field").asString()).isEqualTo(field);
    }
    assertThat(Sample.api(service).get(sample.api()).body())
        .doesNotContain("\"" + sample.name() + "\"");
  }
}
