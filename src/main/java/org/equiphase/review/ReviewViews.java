package org.equiphase.review;

import static org.equiphase.web.Require.present;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Views of the queue: everyone has their own and sees what others share. */
@Service
public class ReviewViews {

  private static final int LONGEST_NAME = 60;
  private static final int LONGEST_QUERY = 1000;
  private static final int MOST = 30;

  private final JdbcClient jdbc;
  private final AuditLog audit;

  ReviewViews(JdbcClient jdbc, AuditLog audit) {
    this.jdbc = jdbc;
    this.audit = audit;
  }

  /**
   * A view as it is asked for.
   *
   * @param version the one it was changed from; null for a new view
   */
  record Draft(
      @Nullable String name,
      @Nullable String query,
      @Nullable Boolean shared,
      @Nullable Boolean opensFirst,
      @Nullable Integer version) {

    public boolean isShared() {
      return Boolean.TRUE.equals(shared);
    }

    public boolean isFirst() {
      return Boolean.TRUE.equals(opensFirst);
    }
  }

  /** One's own by name, then those that others share. */
  @Transactional(readOnly = true)
  public List<ReviewView> visible() {
    return jdbc.sql(
            """
            select * from review_view where owner = :me or shared
            order by case when owner = :me then 0 else 1 end, name, owner
            """)
        .param("me", Actor.name())
        .query(ReviewView.class)
        .list();
  }

  /** One's own views by name. */
  @Transactional(readOnly = true)
  public List<ReviewView> own() {
    return visible().stream().filter(view -> view.owner().equals(Actor.name())).toList();
  }

  /** The view that opens where its owner asks for no filter. */
  @Transactional(readOnly = true)
  public Optional<ReviewView> first() {
    return own().stream().filter(ReviewView::opensFirst).findFirst();
  }

  @Transactional
  ReviewView save(Draft draft) {
    String query = checked(draft);
    if (own().size() >= MOST) {
      throw new ConflictException(Sentence.of("queue.viewsFull", MOST));
    }
    String name = freeName(draft, 0);
    jdbc.sql(
            """
            insert into review_view (owner, name, query, shared, opens_first, version)
            values (?, ?, ?, ?, false, 0)
            """)
        .params(Actor.name(), name, query, draft.isShared())
        .update();
    ReviewView saved =
        own().stream().filter(view -> view.name().equals(name)).findFirst().orElseThrow();
    return recorded("REVIEW_VIEW_SAVED", placed(saved, draft.isFirst()));
  }

  /** Changes a view of one's own. */
  @Transactional
  ReviewView change(long id, Draft draft) {
    String query = checked(draft);
    int version = present("version", draft.version);
    ReviewView view = owned(id);
    String name = freeName(draft, id);
    requireChanged(
        jdbc.sql(
                """
                update review_view set name = ?, query = ?, shared = ?, version = version + 1
                where id = ? and version = ?
                """)
            .params(name, query, draft.isShared(), id, version)
            .update(),
        view);
    return recorded("REVIEW_VIEW_CHANGED", placed(owned(id), draft.isFirst()));
  }

  /** Deletes a view of one's own. */
  @Transactional
  void delete(long id, int version) {
    ReviewView view = owned(id);
    requireChanged(
        jdbc.sql("delete from review_view where id = ? and version = ?")
            .params(id, version)
            .update(),
        view);
    recorded("REVIEW_VIEW_DELETED", view);
  }

  /** The query in its plain form; refuses what is no view. */
  private static String checked(Draft draft) {
    new Checks()
        .text("name", draft.name, LONGEST_NAME)
        .text("query", draft.query, LONGEST_QUERY)
        .done();
    String query = QueueQuery.of(QueueQuery.read(present("query", draft.query)).fromStart());
    new Checks().text("query", query, LONGEST_QUERY).done();
    return query;
  }

  /**
   * Looked up before it is stored: on PostgreSQL a refused statement would spoil the transaction in
   * which the page with the reason is still to be read.
   */
  private String freeName(Draft draft, long id) {
    String name = present("name", draft.name).strip();
    if (own().stream().anyMatch(view -> view.id() != id && view.name().equals(name))) {
      throw new ConflictException(Sentence.of("queue.viewNameTaken", name));
    }
    return name;
  }

  private ReviewView owned(long id) {
    return own().stream()
        .filter(view -> view.id() == id)
        .findFirst()
        .orElseThrow(() -> new NotFoundException("review view", "" + id));
  }

  /** One view at most opens first. */
  private ReviewView placed(ReviewView view, boolean first) {
    if (first) {
      jdbc.sql("update review_view set opens_first = false where owner = ? and opens_first")
          .param(view.owner())
          .update();
    }
    jdbc.sql("update review_view set opens_first = ? where id = ?")
        .params(first, view.id())
        .update();
    return owned(view.id());
  }

  private static void requireChanged(int rows, ReviewView view) {
    if (rows == 0) {
      throw new ConflictException(Sentence.of("queue.viewChanged", view.name()));
    }
  }

  private ReviewView recorded(String action, ReviewView view) {
    audit.record(
        action,
        "review view",
        "" + view.id(),
        Map.of(
            "name", view.name(),
            "query", view.query(),
            "shared", view.shared(),
            "opensFirst", view.opensFirst()));
    return view;
  }
}
