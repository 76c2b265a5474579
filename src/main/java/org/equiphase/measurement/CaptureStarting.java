package org.equiphase.measurement;

/** An assembly is about to be captured at a bench; told before the instrument is asked. */
public record CaptureStarting(String serial, long benchId, double temperatureC) {}
