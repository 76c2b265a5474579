package org.equiphase.web;

import java.util.UUID;
import org.springframework.stereotype.Component;

/** Gives each form on a page its own idempotency key; templates call it as {@code @formKeys}. */
@Component("formKeys")
public class FormKeys {

  /** A key that was never given before. */
  public String next() {
    return UUID.randomUUID().toString();
  }
}
