import { useEffect, useRef } from 'preact/hooks';
import type { Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { useCopy } from '../../../ui/use-copy';
import type { NewLink } from './deed';
import { expiryInWords } from './labels';

type Props = { link: NewLink; formatter: Formatter; onClose(): void };

/** A link as it was just made: nobody is shown it a second time. */
export function NewLinkSection({ link, formatter, onClose }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const { control, copy, said } = useCopy(link.linkAddress ?? '', 'The link');
  useEffect(() => heading.current?.focus(), [link]);
  const { name, email, passwordLink, linkAddress, opensHereOnly } = link;
  return (
    <section aria-labelledby="new-link">
      <h2 id="new-link" ref={heading} tabIndex={-1}>
        A link for {name}
      </h2>
      {linkAddress === null ? (
        <p>The link was shown before, and is not shown again. Send a new one if it is lost.</p>
      ) : (
        <>
          <p>
            It goes to {email} by email, and is shown here this once. {passwordLink && works(passwordLink, formatter)}
          </p>
          {opensHereOnly && (
            <p class="fault">
              The link opens only on the computer that runs Wareboard, because you opened Wareboard there. For another
              computer or a phone, set BASE_URL to the address people use, and send a new link.
            </p>
          )}
          <Field key={linkAddress} label="Link" value={linkAddress} control={control} readOnly />
        </>
      )}
      <p class="acts">
        {linkAddress !== null && (
          <button type="button" onClick={copy}>
            Copy link
          </button>
        )}
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
        <span role="status">{said}</span>
      </p>
    </section>
  );
}

const works = ({ expiresAt }: { expiresAt: string }, formatter: Formatter): string =>
  `It works once, until ${expiryInWords(expiresAt, formatter)}.`;
