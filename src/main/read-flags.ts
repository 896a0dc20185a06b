import { constants } from 'node:fs';

/**
 * Opens a path for reading without waiting: a named pipe would hold the program up until somebody writes to it. What was
 * opened is then looked at, and read only when it is a plain file. Source: POSIX, open(), O_NONBLOCK; Windows has none.
 */
export const READ_WITHOUT_WAITING = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);
