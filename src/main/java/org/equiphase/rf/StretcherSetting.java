package org.equiphase.rf;

/**
 * Where to set a line stretcher.
 *
 * @param settingMm reading of the scale to set, mm
 * @param slideMm that reading less the present one, mm
 * @param addedElectricalLengthMm electrical length added by the slide, one way, mm; negative where
 *     the line gets shorter
 * @param residualDeg phase error left at this setting, in the quantity of the given error, whole
 *     turns apart; 0 ideal
 * @param reachable whether the setting takes the error away, up to the resolution
 * @param turns whole wavelengths of line added beyond what the error asks for; negative for
 *     wavelengths taken away
 */
public record StretcherSetting(
    double settingMm,
    double slideMm,
    double addedElectricalLengthMm,
    double residualDeg,
    boolean reachable,
    int turns) {}
