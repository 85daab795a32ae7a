// What pdfkit 0.20 takes and @types/pdfkit doesn't know yet.
declare namespace PDFKit.Mixins {
  interface StructureElementOptions {
    /** left, top, right, bottom in points from the top left corner of the current page */
    bbox?: [number, number, number, number];
    placement?: string;
    scope?: 'Row' | 'Column';
  }
  interface OpenImage {
    width: number;
    height: number;
  }
  interface PDFImage {
    /** drawn any number of times, and held in the file once */
    openImage(bytes: Uint8Array): OpenImage;
    image(open: OpenImage, x: number, y: number, options: { width: number; height: number }): unknown;
  }
}
