/** What goes over the socket between a page and the browser host, as JSON texts. */

import type { Refusal } from './refusal.ts';

/** Where the socket is opened; a plain GET there asks whether the host is there and knows this browser. */
export const LINK_PATH = '/link';
/** Under this name of the address a page says which it is. */
export const PAGE_PARAMETER = 'page';
/** A page's id: made at random when it is loaded. */
export const PAGE_ID = /^[\w-]{8,64}$/u;

/** A larger message is not read. A take of three hours fits many times, one of two million events does not. */
export const LARGEST_MESSAGE_BYTES = 32 * 1024 * 1024;

/** The code of a socket closed because its page was left. Source: RFC 6455, section 7.4.1. */
export const GOING_AWAY = 1001;

/** A reply as it goes over a transport. */
export type Answer =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly refusal: Refusal };

export type PageMessage =
  | {
      readonly kind: 'ask';
      /** The page's own number for this call. */
      readonly id: number;
      readonly name: string;
      readonly request?: unknown;
    }
  /** Asks for a sign of life. */
  | { readonly kind: 'ping' };
