export { type BeatClock, createBeatClock, openingTempoBpm } from './beat-clock.ts';
export { formOnGrid } from './form-on-grid.ts';
export {
  type BeatPlace,
  createSlotGrid,
  defaultSlotsPerBeat,
  type GridSettings,
  type SlotGrid,
  type SlotPlace,
  slotFraction,
} from './slot-grid.ts';
