package org.equiphase.account;

import java.time.Clock;
import java.time.ZoneOffset;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.core.userdetails.UserDetailsPasswordService;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The people who may sign in, their roles and passwords. */
@Service
@Transactional
public class Accounts implements UserDetailsService, UserDetailsPasswordService {

  private final JdbcClient jdbc;
  private final PasswordEncoder encoder;
  private final AuditLog audit;
  private final Sessions sessions;
  private final Attempts attempts;
  private final PersonPreferences preferences;
  private final Clock clock;

  Accounts(
      JdbcClient jdbc,
      PasswordEncoder encoder,
      AuditLog audit,
      Sessions sessions,
      Attempts attempts,
      PersonPreferences preferences,
      Clock clock) {
    this.jdbc = jdbc;
    this.encoder = encoder;
    this.audit = audit;
    this.sessions = sessions;
    this.attempts = attempts;
    this.preferences = preferences;
    this.clock = clock;
  }

  /** Everyone, by username. */
  @Transactional(readOnly = true)
  public List<Person> people() {
    Map<Long, Set<Role>> roles = new HashMap<>();
    jdbc.sql("select person_id, role from person_role")
        .query(
            row -> {
              roles
                  .computeIfAbsent(row.getLong(1), id -> EnumSet.noneOf(Role.class))
                  .add(Role.valueOf(row.getString(2)));
            });
    return jdbc.sql(
            "select id, username, display_name, enabled, version from person order by username")
        .query(
            (row, number) ->
                new Person(
                    row.getLong(1),
                    row.getString(2),
                    row.getString(3),
                    row.getBoolean(4),
                    roles.getOrDefault(row.getLong(1), Set.of()),
                    row.getLong(5)))
        .list();
  }

  /**
   * One person.
   *
   * @throws NotFoundException if nobody has this username
   */
  @Transactional(readOnly = true)
  public Person person(String username) {
    return find(username).orElseThrow(() -> new NotFoundException("person", username));
  }

  @Transactional(readOnly = true)
  boolean isEmpty() {
    return jdbc.sql("select count(*) from person").query(Long.class).single() == 0;
  }

  /**
   * Adds a person.
   *
   * @throws InvalidInputException if a field is bad
   * @throws ConflictException if the username is taken
   */
  public Person add(NewPerson person) {
    person.check();
    return insert(person);
  }

  /** Adds someone of the demo, with a password that everyone knows. */
  void addForDemo(NewPerson person) {
    insert(person);
  }

  private Person insert(NewPerson person) {
    String username = person.username();
    if (find(username).isPresent()) {
      throw new ConflictException(Sentence.of("account.usernameTaken", username));
    }
    jdbc.sql(
            """
            insert into person (username, display_name, password_hash, enabled, version, created_at)
            values (:username, :displayName, :hash, true, 1, :now)
            """)
        .param("username", username)
        .param("displayName", person.displayName())
        .param("hash", encoder.encode(person.password()))
        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
        .update();
    Person added =
        new Person(idOf(username), username, person.displayName(), true, person.roles(), 1);
    insertRoles(added);
    audit.record(
        "PERSON_ADDED",
        "person",
        username,
        Map.of("displayName", person.displayName(), "roles", names(person.roles())));
    return added;
  }

  /**
   * Changes name, roles and whether the person may sign in; ends their sessions.
   *
   * @throws ConflictException if the version is not the present one, or no enabled administrator
   *     would be left
   */
  public Person change(String username, PersonChange change) {
    change.check();
    Person before = person(username);
    lockAdministrators();
    int updated =
        jdbc.sql(
                """
                update person set display_name = :displayName, enabled = :enabled, version = version + 1
                where id = :id and version = :version
                """)
            .param("displayName", change.displayName())
            .param("enabled", change.enabled())
            .param("id", before.id())
            .param("version", change.version())
            .update();
    if (updated == 0) {
      throw new ConflictException(Sentence.of("account.changedMeanwhile", username));
    }
    Person after =
        new Person(
            before.id(),
            before.username(),
            change.displayName(),
            change.enabled(),
            change.roles(),
            change.version() + 1);
    jdbc.sql("delete from person_role where person_id = :id").param("id", before.id()).update();
    insertRoles(after);
    if (enabledAdministrators() == 0) {
      throw new ConflictException(Sentence.of("account.nobodyLeft"));
    }
    audit.record(
        "PERSON_CHANGED",
        "person",
        before.username(),
        Map.of(
            "displayName", after.displayName(),
            "enabled", after.enabled(),
            "roles", names(after.roles())));
    sessions.endAfterCommit(before.username());
    return after;
  }

  /**
   * Sets a person's password; ends their sessions.
   *
   * @throws InvalidInputException if the password does not do
   */
  public void resetPassword(String username, String password) {
    Person person = person(username);
    PasswordRules.check("password", password, username, person.displayName());
    setPassword(person, password);
    audit.record("PASSWORD_RESET", "person", person.username(), Map.of());
    sessions.endAfterCommit(person.username());
  }

  /**
   * Changes one's own password; ends all sessions.
   *
   * @throws InvalidInputException if the present password is wrong or the new one does not do
   */
  public void changePassword(String username, String present, String password) {
    Person person = person(username);
    if (!hasPassword("presentPassword", person, present)) {
      throw InvalidInputException.of("presentPassword", Sentence.of("account.wrongPassword"));
    }
    PasswordRules.check("newPassword", password, username, person.displayName());
    setPassword(person, password);
    audit.record("PASSWORD_CHANGED", "person", username, Map.of());
    sessions.endAfterCommit(username);
  }

  /** Ends all of a person's sessions. */
  public void signOutEverywhere(String username) {
    Person person = person(username);
    audit.record("SIGNED_OUT_EVERYWHERE", "person", person.username(), Map.of());
    sessions.endAfterCommit(person.username());
  }

  /**
   * Whether this is the person's present password.
   *
   * @throws InvalidInputException on {@code field} if too many wrong ones came before
   */
  boolean hasPassword(String field, Person person, String password) {
    try {
      attempts.beginFor(person.username());
    } catch (TooManyAttemptsException e) {
      throw InvalidInputException.of(field, e.words());
    }
    boolean right = encoder.matches(password, passwordHash(person));
    if (right) {
      attempts.succeededFor(person.username());
    }
    return right;
  }

  /** Keeps the same password under a costlier hash. */
  @Override
  public UserDetails updatePassword(UserDetails user, @Nullable String newHash) {
    jdbc.sql("update person set password_hash = :hash where username = :username")
        .param("hash", newHash)
        .param("username", user.getUsername())
        .update();
    return user;
  }

  @Override
  @Transactional(readOnly = true)
  public SignedIn loadUserByUsername(String username) {
    Person person =
        find(username).orElseThrow(() -> new UsernameNotFoundException("no such person"));
    return preferences.applied(new SignedIn(person, passwordHash(person), null, LengthUnit.MM));
  }

  private Optional<Person> find(String username) {
    String wanted = normalized(username);
    if (!NewPerson.isUsername(wanted)) {
      return Optional.empty();
    }
    return jdbc.sql(
            "select id, username, display_name, enabled, version from person where username = ?")
        .param(wanted)
        .query(
            (row, number) ->
                new Person(
                    row.getLong(1),
                    row.getString(2),
                    row.getString(3),
                    row.getBoolean(4),
                    roles(row.getLong(1)),
                    row.getLong(5)))
        .optional();
  }

  static String normalized(String username) {
    return username.strip().toLowerCase(Locale.ROOT);
  }

  private Set<Role> roles(long personId) {
    Set<Role> roles = EnumSet.noneOf(Role.class);
    jdbc.sql("select role from person_role where person_id = ?")
        .param(personId)
        .query(String.class)
        .list()
        .forEach(role -> roles.add(Role.valueOf(role)));
    return roles;
  }

  private long idOf(String username) {
    return jdbc.sql("select id from person where username = ?")
        .param(username)
        .query(Long.class)
        .single();
  }

  private void insertRoles(Person person) {
    for (Role role : person.roles()) {
      jdbc.sql("insert into person_role (person_id, role) values (?, ?)")
          .params(person.id(), role.name())
          .update();
    }
  }

  /** Two administrators who take each other's role at the same time must not both succeed. */
  private void lockAdministrators() {
    jdbc.sql(
            """
            select id from person
            where id in (select person_id from person_role where role = 'ADMINISTRATOR')
            order by id for update
            """)
        .query(Long.class)
        .list();
  }

  private long enabledAdministrators() {
    return jdbc.sql(
            """
            select count(*) from person p join person_role r on r.person_id = p.id
            where r.role = 'ADMINISTRATOR' and p.enabled
            """)
        .query(Long.class)
        .single();
  }

  private String passwordHash(Person person) {
    return jdbc.sql("select password_hash from person where id = ?")
        .param(person.id())
        .query(String.class)
        .single();
  }

  private void setPassword(Person person, String password) {
    jdbc.sql("update person set password_hash = :hash, version = version + 1 where id = :id")
        .param("hash", encoder.encode(password))
        .param("id", person.id())
        .update();
  }

  private static List<String> names(Set<Role> roles) {
    return roles.stream().sorted().map(Role::name).toList();
  }
}
