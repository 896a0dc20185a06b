export { type BeatClock, createBeatClock, openingTempoBpm } from './beat-clock.ts';
export {
  beatsPerBar,
  defaultSlotsPerBeat,
  formatMeter,
  isCompound,
  quartersPerBeat,
} from './meter.ts';
export {
  type BeatPlace,
  createSlotGrid,
  type GridSettings,
  type SlotGrid,
  type SlotPlace,
  slotFraction,
} from './slot-grid.ts';
