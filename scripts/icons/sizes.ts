/** Sizes of the icons in pixels. */

/** Source: freedesktop.org Icon Theme Specification; the directories of its default theme. */
export const LINUX_SIZES: readonly number[] = [16, 24, 32, 48, 64, 128, 256, 512];

/** Source: Microsoft, "Construct your Windows app's icon": the sizes an app's icon should have. */
export const ICO_SIZES: readonly number[] = [16, 24, 32, 48, 64, 128, 256];
