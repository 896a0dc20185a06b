/** Style sheets are imported for their effect alone. */
declare module '*.css';
/** A font's address in the built program. */
declare module '*.woff2?url' {
  const address: string;
  export default address;
}
