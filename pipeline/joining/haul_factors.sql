-- One row per haul: the conditions it was fished under, as words.
-- `stretch` is the part of the record that rigs must share to have been fished side by side:
-- a quarter of a year, or a whole year where the record runs over more than two.
with

record as (
    select max(year(shot_at)) - min(year(shot_at)) + 1 as years from measured_hauls
),

dated as (
    select
        row,
        cast(year(shot_at) as varchar(8)) as year,
        concat('Q', cast(quarter(shot_at) as varchar(8))) as quarter
    from measured_hauls
    where shot_at is not null
),

final as (
    select
        hauls.row,
        hauls.rig_version,
        hauls.ground,
        hauls.vessel,
        coalesce(depth_bands.depth_band, 'not recorded') as depth_band,
        coalesce(dated.quarter, 'not recorded') as quarter,
        coalesce(dated.year, 'not recorded') as year,
        case
            when dated.year is null then 'not dated'
            when record.years > 2 then dated.year
            else concat(dated.year, ' ', dated.quarter)
        end as stretch
    from measured_hauls as hauls
    cross join record
    left join dated on hauls.row = dated.row
    left join depth_bands
        on hauls.depth_m >= depth_bands.from_m
        and hauls.depth_m < depth_bands.to_m
)

select * from final
