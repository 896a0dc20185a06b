/** Installs Debian's Chromium where it is missing and can be installed; ends the process where it cannot. */
export function ensureChromium(): void;
