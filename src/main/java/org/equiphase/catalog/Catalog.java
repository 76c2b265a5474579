package org.equiphase.catalog;

import java.util.List;
import java.util.Optional;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * What the shop owns and buys.
 *
 * <p>For each kind: all entries by name; one by id ({@link org.equiphase.web.NotFoundException}
 * where there is none); one by its exact name; and {@code save}, which stores a draft with id 0 as
 * a new entry and any other as the next version of its entry, answering what is stored then. A
 * draft with bad values gets {@link org.equiphase.web.InvalidInputException} naming each bad field,
 * one with an outdated version {@link org.equiphase.web.ConflictException}; neither stores
 * anything. Every write is audited in its transaction. Nothing is deleted.
 */
@Service
@Transactional
public class Catalog {
  private final CableTypes cableTypes;
  private final EndStandards endStandards;
  private final Adapters adapters;
  private final LineStretchers lineStretchers;
  private final Instruments instruments;
  private final Benches benches;

  Catalog(
      CableTypes cableTypes,
      EndStandards endStandards,
      Adapters adapters,
      LineStretchers lineStretchers,
      Instruments instruments,
      Benches benches) {
    this.cableTypes = cableTypes;
    this.endStandards = endStandards;
    this.adapters = adapters;
    this.lineStretchers = lineStretchers;
    this.instruments = instruments;
    this.benches = benches;
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<CableType> cableTypes() {
    return cableTypes.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public CableType cableType(long id) {
    return cableTypes.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<CableType> cableTypeByName(String name) {
    return cableTypes.byName(name);
  }

  public CableType save(CableType draft) {
    return cableTypes.save(draft, new DraftProblems());
  }

  CableType save(CableType draft, DraftProblems problems) {
    return cableTypes.save(draft, problems);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<EndStandard> endStandards() {
    return endStandards.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public EndStandard endStandard(long id) {
    return endStandards.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<EndStandard> endStandardByName(String name) {
    return endStandards.byName(name);
  }

  public EndStandard save(EndStandard draft) {
    return endStandards.save(draft, new DraftProblems());
  }

  EndStandard save(EndStandard draft, DraftProblems problems) {
    return endStandards.save(draft, problems);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<Adapter> adapters() {
    return adapters.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Adapter adapter(long id) {
    return adapters.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<Adapter> adapterByName(String name) {
    return adapters.byName(name);
  }

  public Adapter save(Adapter draft) {
    return adapters.save(draft, new DraftProblems());
  }

  Adapter save(Adapter draft, DraftProblems problems) {
    return adapters.save(draft, problems);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<LineStretcher> lineStretchers() {
    return lineStretchers.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public LineStretcher lineStretcher(long id) {
    return lineStretchers.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<LineStretcher> lineStretcherByName(String name) {
    return lineStretchers.byName(name);
  }

  public LineStretcher save(LineStretcher draft) {
    return lineStretchers.save(draft, new DraftProblems());
  }

  LineStretcher save(LineStretcher draft, DraftProblems problems) {
    return lineStretchers.save(draft, problems);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<Instrument> instruments() {
    return instruments.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Instrument instrument(long id) {
    return instruments.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<Instrument> instrumentByName(String name) {
    return instruments.byName(name);
  }

  public Instrument save(Instrument draft) {
    return instruments.save(draft, new DraftProblems());
  }

  Instrument save(Instrument draft, DraftProblems problems) {
    return instruments.save(draft, problems);
  }

  /**
   * Takes an instrument's network address until the end of the present transaction, so that no two
   * instances of the service talk to it at once.
   *
   * @return whether it was free
   */
  @Transactional(propagation = Propagation.MANDATORY)
  public boolean takeLine(ScpiConnection connection) {
    return instruments.takeLine(connection);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public List<Bench> benches() {
    return benches.all();
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Bench bench(long id) {
    return benches.get(id);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  public Optional<Bench> benchByName(String name) {
    return benches.byName(name);
  }

  public Bench save(Bench draft) {
    return benches.save(draft, new DraftProblems());
  }

  Bench save(Bench draft, DraftProblems problems) {
    return benches.save(draft, problems);
  }
}
