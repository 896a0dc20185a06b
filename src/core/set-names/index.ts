/** Names for sets of notes. Beside `theory`, since the library's dictionaries are read at once where this is used. */

export { type SetName, setNames } from './set-names.ts';
