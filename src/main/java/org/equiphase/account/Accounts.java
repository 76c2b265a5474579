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
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The people who may sign in, their roles and passwords. */
@Service
@Transactional
public class Accounts implements UserDetailsService {

  private final JdbcClient jdbc;
  private final PasswordEncoder encoder;
  private final AuditLog audit;
  private final Sessions sessions;
  private final PersonPreferences preferences;
  private final Clock clock;

  Accounts(
      JdbcClient jdbc,
      PasswordEncoder encoder,
      AuditLog audit,
      Sessions sessions,
      PersonPreferences preferences,
      Clock clock) {
    this.jdbc = jdbc;
    this.encoder = encoder;
    this.audit = audit;
    this.sessions = sessions;
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
            username,
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
        username,
        Map.of(
            "displayName", after.displayName(),
            "enabled", after.enabled(),
            "roles", names(after.roles())));
    sessions.endAfterCommit(username);
    return after;
  }

  /**
   * Sets a person's password; ends their sessions.
   *
   * @throws InvalidInputException if the password is too short or too long
   */
  public void resetPassword(String username, String password) {
    NewPerson.checkPassword("password", password);
    setPassword(person(username), password);
    audit.record("PASSWORD_RESET", "person", username, Map.of());
    sessions.endAfterCommit(username);
  }

  /**
   * Changes one's own password; ends all sessions.
   *
   * @throws InvalidInputException if the present password is wrong or the new one does not do
   */
  public void changePassword(String username, String present, String password) {
    Person person = person(username);
    if (!encoder.matches(present, passwordHash(person))) {
      throw InvalidInputException.of("presentPassword", Sentence.of("account.wrongPassword"));
    }
    NewPerson.checkPassword("newPassword", password);
    setPassword(person, password);
    audit.record("PASSWORD_CHANGED", "person", username, Map.of());
    sessions.endAfterCommit(username);
  }

  /** Whether this is the person's present password. */
  @Transactional(readOnly = true)
  boolean hasPassword(String username, String password) {
    return encoder.matches(password, passwordHash(person(username)));
  }

  @Override
  @Transactional(readOnly = true)
  public SignedIn loadUserByUsername(String username) {
    Person person =
        find(username).orElseThrow(() -> new UsernameNotFoundException("no such person"));
    return preferences.applied(new SignedIn(person, passwordHash(person), null, LengthUnit.MM));
  }

  private Optional<Person> find(String username) {
    String wanted = username.strip().toLowerCase(Locale.ROOT);
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
