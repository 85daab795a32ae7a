ALTER TYPE notice_occasion ADD VALUE 'reminder';
