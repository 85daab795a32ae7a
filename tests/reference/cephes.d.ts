/** The package's own types lie where TypeScript doesn't look: its `exports` don't name them. */
declare module 'cephes' {
  const cephes: {
    /** the natural logarithm of |B(a, b)| */
    lbeta(a: number, b: number): number;
    /** the digamma function, the slope of the logarithm of the gamma function */
    psi(x: number): number;
    /** the chance of more than k successes in n trials of probability p */
    bdtrc(k: number, n: number, p: number): number;
    /** what a Beta(a, b) stays below with probability p */
    incbi(a: number, b: number, p: number): number;
    /** what Student's t with so many degrees of freedom stays below with probability p */
    stdtri(freedom: number, p: number): number;
    /** settled once all of them can be called */
    compiled: Promise<void>;
  };
  export default cephes;
}
