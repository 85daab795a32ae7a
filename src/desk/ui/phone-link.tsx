/** A number as it was written down, which a press rings. */
export const PhoneLink = ({ phone }: { phone: string }) => <a href={`tel:${phone.replace(/[^\d+]/g, '')}`}>{phone}</a>;
