/** What src/page/build.mjs makes: the page's script, style, and packed engine, with the hashes by which the page allows them. */
declare module "#page-parts" {
  const parts: {
    readonly script: string;
    readonly style: string;
    /** A script, by gzip, in base64. */
    readonly engine: string;
    readonly scriptHash: string;
    readonly styleHash: string;
  };
  export default parts;
}
