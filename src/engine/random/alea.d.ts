/** The one generator of seedrandom that is used, without those that are not. */
declare module "seedrandom/lib/alea.js" {
  import type seedrandom from "seedrandom";

  const alea: (typeof seedrandom)["alea"];
  export default alea;
}
