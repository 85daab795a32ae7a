import './logo-section.css';
import { api, type Schemas } from '../../../api/client';
import type { Headers } from '../../../api/idempotency-key';
import { sendPicture } from '../../../api/send-picture';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { PictureInput } from '../../../forms/picture-input';
import { toast } from '../../../ui/toast';
import { prepareLogo } from './prepare-logo';

type Logo = NonNullable<Schemas['StudioLogo']['logo']>;

const HEADING = 'Logo on papers';
const addressOf = ({ sha256 }: Logo) => `/api/studio/logos/${sha256}`;

export async function readLogo(signal: AbortSignal): Promise<Schemas['StudioLogo']> {
  const { data } = await api.GET('/api/studio/logo', { signal });
  if (!data) throw new Error('Your logo could not be loaded. Please reload the page.');
  return data;
}

type Props = { query: { data: Schemas['StudioLogo'] | undefined; error: Error | null } };

/** The logo at the top of papers: uploaded, seen as it is printed, replaced and removed, each time at once. */
export function LogoSection({ query: { data, error } }: Props) {
  const deed = useMutation();
  const logo = data?.logo ?? null;
  const change = async (wish: unknown, said: string, work: Parameters<typeof deed.run>[1]) => {
    const before = logo && (await pictureOf(logo));
    if (!(await deed.run(wish, work))) return;
    const undo = before && {
      work: (headers: Headers) => sendPicture('/api/studio/logo', before, headers),
      undone: 'The logo is as it was before.',
    };
    toast(<span>{said}</span>, undo ?? undefined);
  };
  const upload = (file: File) =>
    change([file.name, file.size, file.lastModified], 'New papers show this logo.', async (headers) =>
      sendPicture('/api/studio/logo', await prepareLogo(file), headers),
    );
  const remove = () =>
    change(['remove', logo?.sha256], 'New papers have no logo.', (headers) =>
      api.POST('/api/studio/logo/removal', { headers }),
    );
  return (
    <section class="studio-logo" aria-labelledby="studio-logo" aria-busy={!data && !error}>
      <h2 id="studio-logo">{HEADING}</h2>
      <p>
        It is printed at the top of receipts, notices, orders and all other papers. Papers that you have issued already
        stay as they are.
      </p>
      {logo && (
        <figure>
          <img src={addressOf(logo)} alt="Your logo" width={logo.widthPx} height={logo.heightPx} />
          <figcaption>As it is printed, on white.</figcaption>
        </figure>
      )}
      <p class="quiet">PNG or JPEG. White edges are cut off, and large pictures made smaller.</p>
      <p class="acts">
        <PictureInput
          label={logo ? 'Replace logo' : 'Upload logo'}
          busy={deed.busy}
          accept="image/png,image/jpeg"
          onPick={upload}
        />
        {logo && (
          <button type="button" class="quiet" disabled={deed.busy} onClick={remove}>
            Remove logo
          </button>
        )}
      </p>
      {(deed.error || error) && <ErrorMessage>{deed.error || error?.message}</ErrorMessage>}
    </section>
  );
}

/** The bytes of the logo that is there now, for whoever wants it back; without them there is no undoing, and no harm. */
const pictureOf = (logo: Logo): Promise<Blob | null> =>
  fetch(addressOf(logo))
    .then((answer) => (answer.ok ? answer.blob() : null))
    .catch(() => null);
