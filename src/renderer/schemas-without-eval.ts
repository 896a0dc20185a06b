/**
 * The page's policy forbids code made of text, which the schema library would try for speed when the first schema is
 * made. So this module comes before every other.
 */

import { z } from 'zod';

z.config({ jitless: true });
