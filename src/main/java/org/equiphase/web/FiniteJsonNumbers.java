package org.equiphase.web;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.databind.DatabindException;
import tools.jackson.databind.DeserializationContext;
import tools.jackson.databind.deser.std.StdDeserializer;
import tools.jackson.databind.module.SimpleModule;

/**
 * Reads JSON numbers as finite doubles only. By itself the parser takes the text "NaN" for a number
 * and 1e999 for infinity, and both would pass through the calculations unseen.
 */
final class FiniteJsonNumbers extends SimpleModule {

  FiniteJsonNumbers() {
    super("finite-numbers");
    addDeserializer(Double.class, new Single(false));
    addDeserializer(double.class, new Single(true));
    addDeserializer(double[].class, new Several());
  }

  private static double finite(JsonParser parser, DeserializationContext context) {
    JsonToken token = parser.currentToken();
    if (token == JsonToken.VALUE_STRING) {
      throw context.weirdStringException(parser.getString(), double.class, "not a number");
    }
    if (token != JsonToken.VALUE_NUMBER_FLOAT && token != JsonToken.VALUE_NUMBER_INT) {
      throw context.wrongTokenException(
          parser, double.class, JsonToken.VALUE_NUMBER_FLOAT, "not a number");
    }
    double value = parser.getDoubleValue();
    if (!Double.isFinite(value)) {
      throw context.weirdStringException(parser.getString(), double.class, "not finite");
    }
    return value;
  }

  private static final class Single extends StdDeserializer<Double> {
    private final boolean required;

    Single(boolean required) {
      super(required ? double.class : Double.class);
      this.required = required;
    }

    @Override
    public Double deserialize(JsonParser parser, DeserializationContext context) {
      return finite(parser, context);
    }

    @Override
    public @Nullable Object getNullValue(DeserializationContext context) {
      return required ? context.reportInputMismatch(this, "null is not a number") : null;
    }
  }

  private static final class Several extends StdDeserializer<double[]> {
    Several() {
      super(double[].class);
    }

    @Override
    public double[] deserialize(JsonParser parser, DeserializationContext context) {
      if (!parser.isExpectedStartArrayToken()) {
        throw context.wrongTokenException(
            parser, double[].class, JsonToken.START_ARRAY, "not a list of numbers");
      }
      double[] values = new double[16];
      int count = 0;
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        if (count == values.length) {
          values = Arrays.copyOf(values, 2 * count);
        }
        try {
          values[count] = finite(parser, context);
        } catch (DatabindException e) {
          throw e.prependPath(values, count);
        }
        count++;
      }
      return Arrays.copyOf(values, count);
    }
  }
}
