export { type BeatClock, createBeatClock, openingTempoBpm } from './beat-clock.ts';
export {
  type BeatPlace,
  createSlotGrid,
  defaultSlotsPerBeat,
  type GridSettings,
  type SlotGrid,
  type SlotPlace,
  slotFraction,
} from './slot-grid.ts';
