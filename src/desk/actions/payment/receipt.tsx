import { useEffect, useRef } from 'preact/hooks';
import type { Paid } from './payment-form';

/** What just happened, where the keyboard goes next: the form that had it is gone. */
export function Receipt({ paid: { payment, name }, money }: { paid: Paid; money(minor: number): string }) {
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => here.current?.focus(), []);
  return (
    <p class="done" role="status" tabIndex={-1} ref={here}>
      {name} paid {money(payment.amountMinor)}
      {payment.voucherLeftMinor !== null && `, and ${money(payment.voucherLeftMinor)} is left on the voucher`}.{' '}
      <a href={`/api/documents/${payment.documentId}/pdf`} target="_blank" rel="noopener">
        Open receipt {payment.receiptNumber}
      </a>
    </p>
  );
}
