/** What the page may do, said with every answer of either host. */

/** Source of the directives: Content Security Policy Level 3, OWASP Secure Headers; nothing inline, nothing remote. */
export const PAGE_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy':
    "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'midi=(self), camera=(), microphone=(), geolocation=()',
  'cache-control': 'no-store',
};
