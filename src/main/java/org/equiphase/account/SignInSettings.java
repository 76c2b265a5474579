package org.equiphase.account;

import java.time.Duration;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * How sign-in is guarded.
 *
 * @param freePerAccount wrong passwords of one account before each further one costs a wait
 * @param freePerAddress the same for all accounts from one address
 * @param longestWait where the waits stop doubling
 * @param longestSession after this a session ends, however much it is used
 * @param providerNameClaim the claim of an identity provider that holds the person's name there
 */
@ConfigurationProperties("equiphase.sign-in")
record SignInSettings(
    @DefaultValue("10") int freePerAccount,
    @DefaultValue("50") int freePerAddress,
    @DefaultValue("15m") Duration longestWait,
    @DefaultValue("12h") Duration longestSession,
    @DefaultValue("preferred_username") String providerNameClaim) {

  SignInSettings {
    if (freePerAccount < 1
        || freePerAddress < 1
        || longestWait.toSeconds() < 1
        || longestSession.toSeconds() < 1) {
      throw new IllegalArgumentException("equiphase.sign-in needs numbers and times above 0");
    }
  }
}
