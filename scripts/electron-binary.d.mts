/** Where Electron's binary is, or why it cannot be had. */
export function electronBinary(): { readonly path?: string; readonly why?: string };
