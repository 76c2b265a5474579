package org.equiphase.measurement;

import java.util.List;

/** A new reference check changes what is known of the drift at these assemblies' readings. */
public record DriftChanged(List<Long> assemblyIds) {

  public DriftChanged {
    assemblyIds = List.copyOf(assemblyIds);
  }
}
