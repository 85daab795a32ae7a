import { BasicList } from '../../../basics/basic-list';
import { TARIFFS } from '../../../basics/tariffs';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';

/** Electricity */
export function TariffsPage() {
  return (
    <Page question="Electricity" tabs={(me) => <StudioTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <BasicList basic={TARIFFS} {...{ me, formatter }} mayChange={me.rights.includes('settings:write')} />
);
