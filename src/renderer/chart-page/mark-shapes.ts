/** The shapes that stand for faults, the same wherever a note is shown. Paths of the SVG kind around a place. */

export const outsidePath = (x: number, y: number): string => `M${x} ${y - 9}l8 9l-8 9l-8-9z`;
export const intervalPath = (x: number, y: number): string => `M${x} ${y - 8}l8 14h-16z`;
export const earlyPath = (x: number, y: number): string => `M${x - 12} ${y - 9}v18`;
export const latePath = (x: number, y: number): string => `M${x + 12} ${y - 9}v18`;
