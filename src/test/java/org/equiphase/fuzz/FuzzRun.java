package org.equiphase.fuzz;

/**
 * Gives all readers many broken files, for as long as wanted.
 *
 * <p>Arguments: how many each, by default 20000; the seed, by default the time.
 */
public final class FuzzRun {

  private FuzzRun() {}

  public static void main(String[] arguments) {
    int count = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 20_000;
    long seed = arguments.length > 1 ? Long.parseLong(arguments[1]) : System.nanoTime();
    Fuzzing.quiet();
    System.out.println("seed " + seed);
    System.out.println("| reader | files | kinds of fault | slowest, ms | most allocated, MB |");
    System.out.println("| --- | --- | --- | --- | --- |");
    boolean well = true;
    for (Readers each : Readers.all()) {
      Fuzzing run = each.fuzzing().broken(seed, count, each.good(), each.words(), each.longest());
      System.out.println(run.row());
      well &= run.found().isEmpty();
    }
    for (String reader : WorstFiles.readers()) {
      Fuzzing run = Readers.named(reader).fuzzing();
      WorstFiles.of(reader).forEach(run::give);
      System.out.println(run.row().replaceFirst("\\| ", "| the worst for "));
      well &= run.found().isEmpty();
    }
    System.exit(well ? 0 : 1);
  }
}
